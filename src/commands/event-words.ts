import { rules } from "../detect/rules.ts";
import { type Display, spoken } from "../fleet/display.ts";
import type { Unit } from "../fleet/unit.ts";
import type { Evidence } from "../terms/events.ts";

/** What a kept event's line says of its condition. */
export interface KeptWords {
  readonly alarm: string;
  readonly message: string;
  readonly evidence?: Evidence;
}

/**
 * A kept event's message in the units of `display`. Events carry their message in stored units: it is said anew by
 * its rule from its evidence where that gives the very message in stored units, and left as it is where not.
 */
export function messageIn(event: KeptWords, unit: Unit | undefined, display: Display): string {
  const { message, evidence } = event;
  const rule = rules.find(({ alarm }) => alarm === event.alarm);
  if (rule === undefined || unit === undefined || evidence === undefined || display === "si") return message;
  const numbers = rule.evidence.flatMap(({ name, against }) => {
    const held = against === undefined ? undefined : evidence[name]?.[against];
    return [Number(evidence[name]?.value ?? Number.NaN), held ?? Number.NaN];
  });
  try {
    return rule.say(numbers, unit, spoken("si")) === message
      ? rule.say(numbers, unit, spoken(display))
      : message;
  } catch {
    // A rule that counts on more numbers than its evidence tells cannot say it.
    return message;
  }
}
