import type { UnitView } from "../../collector/fleet-view.ts";
import { isPartlyJudged } from "../partly-judged.ts";
import { urgencyOf } from "../urgency.ts";
import { alarmStateWords, alarmWords } from "../words.ts";

/** What a unit can be found by: its id, site and state, its alarms, how they stand and how soon somebody is needed. */
export function unitWords(unit: UnitView): string {
  const alarms = unit.alarms.flatMap(({ alarm, priority, state }) => [
    alarm,
    alarmWords(alarm),
    priority,
    alarmStateWords[state],
  ]);
  return [
    unit.id,
    unit.site ?? "",
    unit.state,
    urgencyOf(unit),
    ...(isPartlyJudged(unit) ? ["partly judged"] : []),
    ...(unit.catchingUp ? ["catching up"] : []),
    ...(unit.found?.noTrip === undefined ? [] : ["ground-fault device did not trip"]),
    ...(unit.problem === null ? [] : ["cannot be read", unit.problem]),
    ...alarms,
  ].join(" ");
}
