import type { FleetView } from "../../collector/fleet-view.ts";
import type { Line } from "../line.ts";
import { clockTime } from "../local-time.ts";

/** The views of the whole fleet besides its round: each a list. */
export const sheetKinds = ["standing", "history", "service", "data"] as const;
export type SheetKind = (typeof sheetKinds)[number];

/** Something a person can choose: its first row begins with a column for the mark of choice. */
export interface SheetItem {
  /** What Enter opens; null where that is no unit of the fleet. */
  readonly unit: string | null;
  readonly lines: readonly Line[];
}

export interface SheetGroup {
  /** What stands once over this group and those after it with the same. */
  readonly over?: readonly Line[];
  readonly heading: readonly Line[];
  readonly items: readonly SheetItem[];
}

/** What a view lists, before it is placed on a screen. */
export interface Sheet {
  /** What it is a view of. */
  readonly title: string;
  /** When its data is from, and of what time. */
  readonly asOf: string;
  /** Rows above the list. */
  readonly above: readonly Line[];
  readonly groups: readonly SheetGroup[];
  /** What is said where nothing is listed. */
  readonly none: string;
}

/** The moment of which the view's data is. */
export function asOf({ clockMs, timezone }: FleetView): string {
  return `as of ${clockTime(clockMs, timezone, true)}`;
}
