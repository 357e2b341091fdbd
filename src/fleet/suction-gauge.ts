import type { Channel } from "../terms/channels.ts";
import type { Unit } from "./unit.ts";

/**
 * A channel's reading as typed, in text that bears its sign: a vacuum gauge shows inches or millimetres of mercury
 * without one (common practice).
 */
export function withSign(channel: string, text: string): string {
  const isVacuum = channel === "suction_pressure" && /(?:inhg|mmhg)$/i.test(text.replaceAll(/\s/g, ""));
  return isVacuum && /^[\d.]/.test(text.trim()) ? `-${text.trim()}` : text;
}

/** What is wrong with a suction pressure (kPa) above zero at a pump that lifts its water; undefined where it may be. */
export function notLifted(channel: Channel, kPa: number, { piping }: Unit): string | undefined {
  return channel === "suction_pressure" && kPa > 0 && (piping.suctionLiftM ?? 0) > 0
    ? "above zero, where by suction_lift the pump lifts its water: its gauge shows a vacuum, which is written with a minus"
    : undefined;
}

/** What the fleet file says of a unit's suction that cannot be, in a line; undefined where nothing is. */
export function suctionCaution(unit: Unit): string | undefined {
  const kPa = unit.commissioning?.values.suction_pressure;
  const why = kPa === undefined ? undefined : notLifted("suction_pressure", kPa, unit);
  return why && `${unit.id}: commissioning: suction_pressure is ${why}; it confirms no baseline until then`;
}
