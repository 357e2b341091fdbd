import { rules } from "../detect/rules.ts";
import { type Display, type Spoken, spoken } from "../fleet/display.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { Channel } from "../terms/channels.ts";
import type { Evidence } from "../terms/events.ts";

/** What a kept event's line says of its condition. */
export interface KeptWords {
  readonly alarm: string;
  readonly message: string;
  readonly evidence?: Evidence;
}

/** A fleet as far as its events' words need it: plain data, for a thread too. */
export type Worded = Pick<Fleet, "units" | "display">;

/**
 * A kept event's message in the units of `display`. Events carry their message in stored units: it is said anew by
 * its rule from its evidence where that gives the very message in stored units, else each of its numbers is converted.
 */
export function messageIn(event: KeptWords, unit: Unit | undefined, display: Display): string {
  const { message, evidence } = event;
  if (display === "si") return message;
  const rule = rules.find(({ alarm }) => alarm === event.alarm);
  if (rule === undefined || unit === undefined || evidence === undefined)
    return numbersIn(message, spoken(display));
  const numbers = rule.evidence.flatMap(({ name, against }) => {
    const held = against === undefined ? undefined : evidence[name]?.[against];
    return [Number(evidence[name]?.value ?? Number.NaN), held ?? Number.NaN];
  });
  try {
    if (rule.say(numbers, unit, spoken("si")) === message) return rule.say(numbers, unit, spoken(display));
  } catch {
    // A rule that counts on more numbers than its evidence tells cannot say it.
  }
  return numbersIn(message, spoken(display));
}

const quantities = /(suction|vacuum|discharge|gas)|(-?\d+(?:\.\d+)?) (kPa|°C|K|L\/min|m)(?![\w/])/gi;

/** A message in stored units with its numbers as people see them; a pressure as the gauge that was named last has it. */
function numbersIn(message: string, say: Spoken): string {
  let pressure: Channel = "discharge_pressure";
  return message.replace(quantities, (written, gauge?: string, digits?: string, unit?: string) => {
    if (gauge !== undefined) {
      const named = gauge.toLowerCase();
      pressure =
        named === "gas" ? "gas_pressure" : named === "discharge" ? "discharge_pressure" : "suction_pressure";
      return written;
    }
    const number = Number(digits);
    if (unit === "K") return say.difference(number);
    if (unit === "m") return say.length(number);
    const channel = unit === "°C" ? "motor_temperature" : unit === "L/min" ? "flow" : pressure;
    return say.value(channel, number);
  });
}
