import type { Channel } from "../../terms/channels.ts";
import type { Likeness } from "./column-values.ts";
import { type Guess, left } from "./guess.ts";
import type { Kind } from "./header-words.ts";

/** A temperature or pressure whose header does not say where. */
export interface Unqualified {
  readonly header: string;
  readonly kind: Kind;
  readonly like: Likeness;
  /** What it would be as the reading of a channel. */
  place(channel: Channel): Guess;
}

/** A running motor is at least so much warmer than the water that it lifts, in whichever degrees (house choice). */
const motorWarmer = 10;
/** No pond is warmer, °C or taken as such (house choice). */
const warmestPond = 35;

const because = (guess: Guess, why: string): Guess => ({
  ...guess,
  why: `${why}; ${guess.why}`,
  unsure: true,
});

function open({ header, place }: Unqualified, channels: readonly Channel[], why: string): Guess {
  const choices = channels.flatMap((channel) => {
    const { placed } = place(channel);
    return placed === undefined ? [] : [{ ...placed, when: `if it is ${channel.replaceAll("_", " ")}` }];
  });
  return left(header, why, choices);
}

function temperatures(columns: readonly Unqualified[], taken: ReadonlySet<Channel | undefined>): Guess[] {
  const [warmest, next, ...more] = columns.toSorted((a, b) => b.like.middle - a.like.middle);
  if (warmest === undefined) return [];
  const free = (["motor_temperature", "water_temperature", "ambient_temperature"] as const).filter(
    (channel) => !taken.has(channel),
  );
  const unclear = "its header does not say of what";
  const openAll = (some: readonly Unqualified[]) => some.map((column) => open(column, free, unclear));
  if (taken.has("motor_temperature")) return openAll(columns);
  if (next === undefined) {
    if (warmest.like.middle <= warmestPond) return openAll(columns);
    return [because(warmest.place("motor_temperature"), "warmer than any pond: the motor's")];
  }
  if (warmest.like.middle - next.like.middle < motorWarmer) return openAll(columns);
  const motor = because(warmest.place("motor_temperature"), "the warmest: the motor's");
  if (taken.has("water_temperature") || more.length > 0) return [motor, ...openAll([next, ...more])];
  return [motor, because(next.place("water_temperature"), "the cooler one: the water's")];
}

function pressures(columns: readonly Unqualified[], taken: ReadonlySet<Channel | undefined>): Guess[] {
  const sides = ["discharge_pressure", "suction_pressure", "gas_pressure"] as const;
  const free = sides.filter((channel) => !taken.has(channel));
  const [only, second] = columns;
  const side = only !== undefined && only.like.middle < 0 ? "suction_pressure" : "discharge_pressure";
  if (only === undefined || second !== undefined || taken.has(side)) {
    return columns.map((column) => open(column, free, "its header does not say of which side"));
  }
  const why =
    side === "suction_pressure" ? "below zero: the suction's" : "one gauge, above zero: the discharge's";
  return [because(only.place(side), why)];
}

/** Places what headers leave open by what the others are, and by how warm or deep it is. */
export function placeUnqualified(
  columns: readonly Unqualified[],
  others: readonly Guess[],
): readonly Guess[] {
  const taken = new Set(
    others.flatMap(({ placed, choices }) => [placed?.channel, ...choices.map((c) => c.channel)]),
  );
  return [
    ...temperatures(
      columns.filter(({ kind }) => kind === "temperature"),
      taken,
    ),
    ...pressures(
      columns.filter(({ kind }) => kind === "pressure"),
      taken,
    ),
  ];
}
