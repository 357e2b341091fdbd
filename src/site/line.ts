import { type Display, spoken } from "../fleet/display.ts";
import { type Channel, channelUnit } from "../terms/channels.ts";

/** `unknown`: something that it rests on is not written. */
export type Verdict = "pass" | "caution" | "fail" | "unknown";

/** A number in its stored unit, and as people see it. */
export interface Amount {
  readonly value: number;
  readonly unit: string;
  readonly text: string;
}

/** One thing worked out and judged. */
export interface Line {
  readonly check: string;
  readonly verdict: Verdict;
  readonly value: Amount | null;
  readonly limit: Amount | null;
  /** How the limit binds: `about` is an expected value with its tolerance. */
  readonly sense: "at most" | "at least" | "about" | null;
  /** Where the limit comes from. */
  readonly source: string;
  /** What to change, to enter or to know; null where nothing is to be said. */
  readonly note: string | null;
  /** Keys of the fleet file without which it cannot be judged. */
  readonly enter: readonly string[];
}

/** Makes amounts in the units of a display. */
export interface Amounts {
  length(metres: number): Amount;
  velocity(metresPerSecond: number): Amount;
  channel(channel: Channel, stored: number): Amount;
  /** An expected value, give or take. */
  expected(channel: Channel, stored: number, tolerance: number): Amount;
  minutes(minutes: number): Amount;
  percent(percent: number): Amount;
}

const footM = 0.3048;

export function amountsIn(display: Display): Amounts {
  const say = spoken(display);
  const channel = (name: Channel, stored: number): Amount => ({
    value: stored,
    unit: channelUnit[name],
    text: say.value(name, stored),
  });
  return {
    length: (value) => ({ value, unit: "m", text: say.length(value) }),
    velocity: (value) => ({
      value,
      unit: "m/s",
      text: display === "us" ? `${(value / footM).toFixed(2)} ft/s` : `${value.toFixed(2)} m/s`,
    }),
    channel,
    expected(name, stored, tolerance) {
      const { unit: storedUnit, text } = channel(name, stored);
      const number = say.value(name, tolerance).split(" ")[0];
      const [shown, unit] = text.split(" ");
      return { value: stored, unit: storedUnit, text: `${shown} ±${number} ${unit}` };
    },
    minutes: (value) => ({
      value,
      unit: "min",
      text: Number.isFinite(value) ? `${value.toFixed(1)} min` : "never",
    }),
    percent: (value) => ({ value, unit: "%", text: `${value.toFixed(1)} %` }),
  };
}

/** A line that holds a value against the most or the least that is good; `past` is the verdict beyond it. */
export function held(
  check: string,
  value: Amount,
  sense: "at most" | "at least",
  limit: Amount,
  source: string,
  past: { readonly verdict: "caution" | "fail"; readonly note: string },
  within: string | null = null,
): Line {
  const good = sense === "at most" ? value.value <= limit.value : value.value >= limit.value;
  return {
    check,
    verdict: good ? "pass" : past.verdict,
    value,
    limit,
    sense,
    source,
    note: good ? within : past.note,
    enter: [],
  };
}

/** A line that cannot be judged; `enter` names the keys of the fleet file that it needs. */
export function unknown(
  check: string,
  source: string,
  enter: readonly string[],
  more: Partial<Line> = {},
): Line {
  return {
    check,
    verdict: "unknown",
    value: null,
    limit: null,
    sense: null,
    source,
    note: `Enter ${listed(enter)}.`,
    enter,
    ...more,
  };
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[]): string {
  const last = words.at(-1) ?? "";
  return words.length < 2 ? last : `${words.slice(0, -1).join(", ")} and ${last}`;
}
