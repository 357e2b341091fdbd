import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { limits, type RuleSettings } from "./limits.ts";
import { merged } from "./merge.ts";
import { nearest } from "./nearest.ts";
import { check } from "./problems.ts";
import { quoted } from "./quantity.ts";
import type { Fleet } from "./unit.ts";

const shape = /^\s*([^.=\s]+)\.([^.=\s]+)\s*=\s*(.*?)\s*$/s;

function plain(text: string): unknown {
  if (text === "true" || text === "false") return text === "true";
  return text !== "" && Number.isFinite(Number(text)) ? Number(text) : text;
}

/** Only a length of time can be written in seconds. */
function isDuration(schema: ReturnType<typeof limits>, alarm: AlarmName, setting: string, number: number) {
  return check(schema, { [alarm]: { [setting]: `${number} s` } }).value !== undefined;
}

/**
 * The fleet with one rule setting, written `lost-prime.delay=20s`, in force at every unit; or the problem
 * with it in one line. The given fleet is left as it is.
 */
export function applySetting(
  fleet: Fleet,
  assignment: string,
  ruleSettings: RuleSettings,
): { fleet: Fleet } | { problem: string } {
  const [, name, setting, value] = shape.exec(assignment) ?? [];
  if (name === undefined || setting === undefined || value === undefined) {
    return {
      problem: `${quoted(assignment)} is not a setting; write RULE.SETTING=VALUE, such as lost-prime.delay=20s`,
    };
  }
  const alarm = alarmNames.find((known): known is AlarmName => known === name);
  if (alarm === undefined) {
    return { problem: `${quoted(name)} is not an alarm; the nearest is ${nearest(name, alarmNames)}` };
  }
  const schema = limits(ruleSettings);
  const given = plain(value);
  if (typeof given === "number" && given !== 0 && isDuration(schema, alarm, setting, given)) {
    return {
      problem: `${quoted(assignment)}: ${quoted(value)} of what? Write ${given} s or ${given} min`,
    };
  }
  const changed = { [alarm]: { [setting]: given } };
  // At each unit, since a rule may judge settings together.
  const units = [];
  for (const unit of fleet.units) {
    const { value: checked, problems } = check(schema, merged(unit.limits, changed));
    if (checked === undefined) {
      const [first] = problems;
      return { problem: `${quoted(assignment)}: ${first?.problem ?? "is not accepted"}` };
    }
    units.push({ ...unit, limits: checked });
  }
  return { fleet: { ...fleet, units } };
}
