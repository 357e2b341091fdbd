import type { EvidenceItem as Named } from "../detect/rule.ts";
import type { Evidence, EvidenceItem } from "../terms/events.ts";
import { fourDigits } from "../terms/number.ts";

/** A rule's numbers as events carry them, four significant digits; a number that is not known is left out. */
export function evidenceOf(names: readonly Named[], numbers: readonly number[]): Evidence {
  const evidence: Record<string, EvidenceItem> = {};
  for (const [k, { name, unit, against }] of names.entries()) {
    const value = numbers[2 * k];
    const held = numbers[2 * k + 1];
    if (Number.isNaN(value)) continue;
    evidence[name] = {
      value: fourDigits(value),
      ...(against && !Number.isNaN(held) && { [against]: fourDigits(held) }),
      unit,
    };
  }
  return evidence;
}
