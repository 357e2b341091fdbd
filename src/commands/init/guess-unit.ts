import { type Channel, channelUnit } from "../../terms/channels.ts";
import type { HeaderUnit } from "./header-unit.ts";
import { isPlausible, plausibleUnits } from "./plausible.ts";

export interface UnitGuess {
  readonly unit: string;
  readonly why: string;
  readonly unsure: boolean;
  /** Other units in which the numbers would be likely as well. */
  readonly others: readonly string[];
}

/** A number as people read it: three digits that count. */
export const short = (number: number): string => String(Number(number.toPrecision(3)));

/**
 * The unit of a channel's numbers: as the header says, unless no such reading can be; else by what is likely of the
 * largest one while the pump runs, and by whether the other headers speak of feet and gallons.
 */
export function guessUnit(channel: Channel, said: HeaderUnit, largest: number, american: boolean): UnitGuess {
  const likely = plausibleUnits(channel, largest);
  const stored = channelUnit[channel] === "°C" ? "degC" : channelUnit[channel];
  if (said.is === "unit") {
    const [only, second] = likely;
    if (isPlausible(channel, largest, said.unit) || only === undefined || second !== undefined) {
      return { unit: said.unit, why: `${said.unit} by its header`, unsure: false, others: [] };
    }
    const why = `up to ${short(largest)} cannot be ${said.unit}, as its header says: taken as ${only}`;
    return { unit: only, why, unsure: true, others: [said.unit] };
  }
  const [first] = likely;
  if (first === undefined) {
    const why = `no unit in its header, and ${short(largest)} is likely in none: taken as ${stored}`;
    return { unit: stored, why, unsure: true, others: [] };
  }
  const feet = american ? likely.at(-1) : undefined;
  const unit = feet ?? first;
  const others = likely.filter((other) => other !== unit);
  const also = others.length === 0 ? "" : `; could be ${others.join(" or ")}`;
  const because = feet !== undefined && others.length > 0 ? ", like the other headers" : "";
  const why = `no unit in its header: up to ${short(largest)} is likely in ${unit}${because}${also}`;
  return { unit, why, unsure: others.length > 0, others };
}
