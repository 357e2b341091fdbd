import type { Command } from "../keys.ts";
import type { Place } from "../navigation.ts";
import { periods } from "../period.ts";
import type { SheetKind } from "./sheet.ts";

/** Where a person is among the fleet's lists. */
export interface SheetPlace {
  readonly kind: SheetKind;
  /** Place of the chosen item. */
  readonly chosen: number;
  readonly top: number;
  /** Which of `periods` the history shows, and how many of them back its end lies. */
  readonly period: number;
  readonly back: number;
  /** A unit that was opened from the list lies over it. */
  readonly covered: boolean;
  /** Where it was opened, to go back to. */
  readonly from: Pick<Place, "screen" | "unit" | "unitTop">;
}

/** Keys that are for the list alone while it is looked at; others go on to what they are for elsewhere. */
const mine: ReadonlySet<Command> = new Set<Command>([
  ...(["up", "down", "left", "right", "page up", "page down", "home", "end"] as const),
  ...(["open", "next part", "less time", "more time", "acknowledge", "order"] as const),
]);

const kindOf: Partial<Record<Command, SheetKind>> = {
  standing: "standing",
  history: "history",
  service: "service",
  data: "data",
};

/** The list that a command asks for. */
export function sheetAsked(command: Command): SheetKind | undefined {
  return kindOf[command];
}

/** A list as it is first shown. */
export function firstSheetPlace(kind: SheetKind, from: SheetPlace["from"]): SheetPlace {
  return { kind, chosen: 0, top: 0, period: 1, back: 0, covered: false, from };
}

/** The place after `command` in a list of `items`, `page` of which fit about on a screen; undefined where it is not for a list. */
export function movedInSheet(
  place: SheetPlace,
  command: Command,
  items: number,
  page: number,
): SheetPlace | undefined {
  if (!mine.has(command)) return undefined;
  const chosen = (to: number): SheetPlace => ({ ...place, chosen: Math.max(0, Math.min(items - 1, to)) });
  if (place.kind === "history") {
    const { period, back } = place;
    const anew = { chosen: 0, top: 0 };
    if (command === "less time") return { ...place, ...anew, period: Math.max(0, period - 1), back: 0 };
    if (command === "more time")
      return { ...place, ...anew, period: Math.min(periods.length - 1, period + 1), back: 0 };
    if (command === "left") return { ...place, ...anew, back: back + 1 };
    if (command === "right") return { ...place, ...anew, back: Math.max(0, back - 1) };
  }
  switch (command) {
    case "up":
      return chosen(place.chosen - 1);
    case "down":
      return chosen(place.chosen + 1);
    case "page up":
      return chosen(place.chosen - page);
    case "page down":
      return chosen(place.chosen + page);
    case "home":
      return { ...place, chosen: 0, top: 0 };
    case "end":
      return chosen(items - 1);
    default:
      // A key of another screen does nothing that cannot be seen on this one.
      return place;
  }
}
