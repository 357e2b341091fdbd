import type { FleetView, UnitView } from "../../collector/fleet-view.ts";
import type { Said } from "../../collector/keeping.ts";
import { moment } from "../local-time.ts";

/** Who says something, of which unit, by the view that they see. */
export interface Speaking {
  readonly view: FleetView;
  readonly unit: UnitView;
  readonly by: string;
}

/** What a person means to say: of the alarms that they saw, whatever comes before it is said. */
export interface Prepared {
  /** What it would do, to be read before it is confirmed: `LM-03: shelve Lost prime until 05:12`. */
  readonly what: string;
  /** Why it has to be confirmed; null where it is said at once. */
  readonly asks: string | null;
  /** The words, as said at a time by the fleet's clock, ms. */
  said(atMs: number): readonly Said[];
  /** What is told once they are kept. */
  done(atMs: number): string;
  /** What is told beside what came of it. */
  readonly besides?: string;
  /** By a view of after: what is told instead where a colleague was first, else null; undefined: it does not show yet. */
  first?(atMs: number, view: FleetView): string | null | undefined;
}

export interface Problem {
  /** What to write instead, on one line. */
  readonly problem: string;
}

/** A moment as a person reads it beside this view. */
export function at(timeMs: number, { view }: Speaking): string {
  return moment(timeMs, view.clockMs, view.timezone);
}
