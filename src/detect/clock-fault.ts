import { z } from "zod";
import { duration } from "../fleet/quantity.ts";
import type { Evidence } from "../terms/events.ts";
import { fourDigits } from "../terms/number.ts";
import { age, minute } from "../terms/time.ts";
import { common } from "./settings.ts";

/** Settings of a rule that looks at clocks and not at the water. */
export const clockSettings = z.strictObject({
  /** How long readings must come with times that had been before; afterwards in order, until it is over. */
  ...common({ delay: "60 s", off_delay: "10 min", priority: "low" }),
  /** Clocks and the order of rows that differ by less are nothing to tell of (house choice). */
  back: duration().default(2 * minute),
  /** The newest reading is ahead of the collector's clock by this much (house choice). */
  ahead: duration().default(2 * minute),
  /** Readings that have just come are older than this, and than two deliveries, each time (house choice). */
  lag: duration().default(5 * minute),
  /** They are for so long (house choice). */
  lag_for: duration().default(10 * minute),
});

export type ClockSettings = z.output<typeof clockSettings>;

/** How a logger's clock is wrong: stepped back, ahead, so far ahead that its rows are refused, or behind. */
export type ClockFault = "back" | "ahead" | "refused" | "lag";

/** The reason in plain words; `byMs` is how far the clock is off. */
export function sayClock(fault: ClockFault, byMs: number): string {
  const by = age(byMs);
  switch (fault) {
    case "back":
      return (
        `The logger's clock stepped back by ${by}: readings come with times that had been before and are not ` +
        "judged. Set the logger's clock."
      );
    case "ahead":
      return (
        `The newest reading is ${by} ahead of the clock here, and rows before that time are not judged. ` +
        "Set the logger's clock."
      );
    case "refused":
      return `Readings come with times ${by} ahead of the clock here and are refused. Set the logger's clock.`;
    case "lag":
      return (
        `Readings that have just come are ${by} old each time: the logger's clock or its time zone is behind. ` +
        "Set it, or give `timezone` in the fleet file."
      );
  }
}

export function clockEvidence(fault: ClockFault, byMs: number, settings: ClockSettings): Evidence {
  const limitMs = fault === "back" ? settings.back : fault === "lag" ? settings.lag : settings.ahead;
  return {
    [fault === "back" || fault === "lag" ? "clock_behind_by" : "clock_ahead_by"]: {
      value: fourDigits(byMs / 1000),
      limit: limitMs / 1000,
      unit: "s",
    },
  };
}
