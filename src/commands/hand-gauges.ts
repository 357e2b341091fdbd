import { physicalRange } from "../condition/physical-range.ts";
import { oneOfThese } from "../fleet/nearest.ts";
import { type Bounds, parseQuantity, quoted, unitsMeant } from "../fleet/quantity.ts";
import { notLifted, withSign } from "../fleet/suction-gauge.ts";
import type { Unit } from "../fleet/unit.ts";
import type { StoredUnit } from "../fleet/units.ts";
import { type Gauges, gaugeChannels } from "../fleet/visit.ts";
import { type Channel, channelUnit } from "../terms/channels.ts";
import { fourDigits } from "../terms/number.ts";
import { visible } from "../terms/text.ts";
import { CannotWork } from "./context.ts";

/**
 * A motor that draws more of what its start may draw than this is off by its overload before anybody has read a gauge:
 * three times its full load, where that is known (house choice).
 */
const mostOfStart = 1 / 4;

/** What gauges showed, as typed: `motor_current=7.1A`. Throws `CannotWork` for what a gauge there cannot show. */
export function gaugesOf(typed: readonly string[], unit: Unit): Gauges {
  const gauges: Partial<Record<Channel, number>> = {};
  for (const text of typed) {
    const [name, value] = apart(text);
    const channel = channelNamed(name);
    if (gauges[channel] !== undefined)
      throw new CannotWork(`--reading: ${channel} is told twice; write it once`);
    gauges[channel] = shownBy(channel, value, unit);
  }
  return gauges;
}

function apart(text: string): readonly [string, string] {
  const at = text.search(/[=:]/);
  if (at > 0) return [text.slice(0, at), text.slice(at + 1).trim()];
  throw new CannotWork(
    `--reading '${visible(text)}': write the channel and what it shows: motor_current=7.1A`,
  );
}

function channelNamed(name: string): Channel {
  const plain = name
    .trim()
    .toLowerCase()
    .replaceAll(/[\s-]+/g, "_");
  const channel = gaugeChannels.find((one) => one === plain);
  if (channel !== undefined) return channel;
  throw new CannotWork(
    `--reading: '${visible(name)}' is no channel that a gauge shows${oneOfThese(plain, gaugeChannels)}`,
  );
}

function shownBy(channel: Channel, text: string, unit: Unit): number {
  const range = physicalRange(channel, unit);
  const most = channel === "motor_current" ? mostOfStart : 1;
  const bounds =
    range === undefined ? {} : { min: fourDigits(range.low), max: fourDigits(range.high * most) };
  const option = `--reading ${channel}`;
  const stored = channelUnit[channel] as StoredUnit;
  const value = typedReading(option, withSign(channel, text), stored, bounds, `${channel}=`);
  const why = notLifted(channel, value, unit);
  if (why !== undefined) throw new CannotWork(`${option}: ${quoted(text)} is ${why}`);
  return value;
}

/**
 * A reading as typed, in its stored unit. Throws `CannotWork` for what is none, is out of bounds, or lacks the unit that
 * would tell which of several is meant; `before` stands before what is to be written instead.
 */
export function typedReading(
  option: string,
  text: string,
  unit: StoredUnit,
  bounds: Bounds,
  before = "",
): number {
  const meant = unitsMeant(text, unit);
  if (meant !== undefined) {
    const write = meant.map((one) => `${before}${one}`).join(" or ");
    throw new CannotWork(`${option}: ${quoted(text)} has no unit; write ${write}`);
  }
  const parsed = parseQuantity(text, unit, bounds);
  if ("problem" in parsed) throw new CannotWork(`${option}: ${parsed.problem}`);
  return parsed.value;
}
