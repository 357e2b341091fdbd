import { day, hour } from "../terms/time.ts";
import type { Command } from "./keys.ts";
import { clampTop } from "./viewport.ts";

/** The windows that a person may choose, the shortest first. */
export const performanceWindows = [
  { words: "8 h", ms: 8 * hour },
  { words: "24 h", ms: day },
  { words: "7 d", ms: 7 * day },
  { words: "30 d", ms: 30 * day },
] as const;

/** Where a person is on the screen of alarm performance. */
export interface PerformancePlace {
  /** Which of `performanceWindows`. */
  readonly window: number;
  readonly top: number;
}

export const firstPerformancePlace: PerformancePlace = { window: 1, top: 0 };

/** What stays as it is on every screen. */
const everywhere: ReadonlySet<Command> = new Set(["explain", "quit", "interrupt", "set aside", "redraw"]);

/** The place after `command`: null once the screen is left, undefined where the command is not for this screen. */
export function movedInPerformance(
  place: PerformancePlace,
  command: Command,
  height: number,
  rows: number,
): PerformancePlace | null | undefined {
  if (everywhere.has(command)) return undefined;
  const chosen = (by: number): PerformancePlace => ({
    window: Math.max(0, Math.min(performanceWindows.length - 1, place.window + by)),
    top: 0,
  });
  const scrolled = (by: number): PerformancePlace => ({
    ...place,
    top: clampTop(clampTop(place.top, height, rows) + by, height, rows),
  });
  switch (command) {
    case "back":
    case "performance":
      return null;
    case "less time":
    case "left":
      return chosen(-1);
    case "more time":
    case "right":
      return chosen(1);
    case "up":
      return scrolled(-1);
    case "down":
      return scrolled(1);
    case "page up":
      return scrolled(1 - height);
    case "page down":
      return scrolled(height - 1);
    case "home":
      return scrolled(Number.NEGATIVE_INFINITY);
    case "end":
      return scrolled(Number.POSITIVE_INFINITY);
    default:
      // A key of another screen does nothing that cannot be seen on this one.
      return place;
  }
}
