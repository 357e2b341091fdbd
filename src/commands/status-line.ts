import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import { isActive } from "../dashboard/urgency.ts";
import { widthOf } from "../dashboard/width.ts";
import { comparePriority, type Priority } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import { age } from "../terms/time.ts";

const widest = 80;

/** A fleet's status as one line of at most 80 columns, for a prompt or a login message; the worst is named. */
export function statusLine(view: FleetView): string {
  const { units, clockMs } = view;
  const active = units.flatMap((unit) => unit.alarms.filter(isActive).map((alarm) => ({ unit, alarm })));
  const blind = units.filter(({ problem }) => problem !== null);
  const count = (priority: Priority) => active.filter(({ alarm }) => alarm.priority === priority).length;
  const worst = active
    .filter(({ alarm }) => alarm.priority !== "prompt")
    .toSorted(
      (a, b) => comparePriority(a.alarm.priority, b.alarm.priority) || b.alarm.raisedMs - a.alarm.raisedMs,
    )[0];
  const parts = (["high", "medium", "low"] as const)
    .filter((priority) => count(priority) > 0)
    .map((priority) => `${count(priority)} ${priority}`);
  if (blind.length > 0) parts.unshift(`${blind.length} cannot be read`);
  const quiet = units.filter((unit) => unit.problem === null && !unit.alarms.some(isActive)).length;
  parts.push(`${quiet} quiet`);
  const named = worst && worstWords(worst.unit, worst.alarm, clockMs);
  const counts = `: ${parts.join(", ")}`;
  const whole = `${visible(view.fleet)}${counts}${named ? ` · ${named}` : ""}`;
  if (widthOf(whole) <= widest) return whole;
  // The name of the fleet gives way before what is wrong does.
  const room = widest - widthOf(counts) - (named ? widthOf(named) + 3 : 0);
  const name = room >= 4 ? `${[...visible(view.fleet)].slice(0, room - 1).join("")}…` : "";
  const short = `${name}${counts}${named ? ` · ${named}` : ""}`.replace(/^: /, "");
  return widthOf(short) <= widest ? short : `${[...short].slice(0, widest - 1).join("")}…`;
}

function worstWords({ id }: UnitView, { alarm, sinceMs }: AlarmView, clockMs: number): string {
  return `${visible(id)} ${alarm.replaceAll("-", " ")} ${age(clockMs - sinceMs)}`;
}
