import type { AlarmView, UnitView } from "../collector/fleet-view.ts";
import { age } from "../terms/time.ts";
import { begunWords } from "./saying/service-actions.ts";
import { isActive, isOver } from "./urgency.ts";
import { alarmStateWords } from "./words.ts";

/** How an alarm stands, with who and until when: `acknowledged by Ann 03:12`; `at` writes a moment. */
export function stateWords(alarm: AlarmView, at: (timeMs: number) => string): string {
  const words = alarmStateWords[alarm.state];
  const { acknowledged, returnedMs } = alarm;
  if (alarm.state === "returned-unacknowledged" && returnedMs !== undefined)
    return `over since ${at(returnedMs)}, not acknowledged`;
  return alarm.state === "active-acknowledged" && acknowledged !== undefined
    ? `${words} by ${acknowledged.by} ${at(acknowledged.atMs)}`
    : words;
}

/** How long an alarm has stood: ` for 12 min`; nothing of one that is over or set aside. */
export function lastedWords(alarm: AlarmView, nowMs: number): string {
  return isActive(alarm) && !isOver(alarm) ? ` for ${age(nowMs - alarm.sinceMs)}` : "";
}

/** How soon somebody must act; of what is over, since when. */
export function answerWords(alarm: AlarmView, at: (timeMs: number) => string): string {
  const { returnedMs, latched, guidance } = alarm;
  if (returnedMs === undefined) return guidance.howSoon;
  return `over since ${at(returnedMs)}: look what it was${latched ? "; latched until it is acknowledged" : ""}`;
}

/** What an alarm is set aside by: the person with the end and the remark, the service, or the other alarm. */
export function asideBy(alarm: AlarmView, unit: UnitView, at: (timeMs: number) => string): string {
  const words = alarmStateWords[alarm.state];
  const aside = unit.setAside.find((one) => one.alarm === alarm.alarm && one.state === alarm.state);
  if (aside !== undefined) {
    const until = aside.untilMs === undefined ? ` since ${at(aside.atMs)}` : ` until ${at(aside.untilMs)}`;
    return `${words} by ${aside.by}${until}${aside.note === undefined ? "" : `: ${aside.note}`}`;
  }
  const begun = alarm.by === "service" ? (unit.begun ?? []).map((one) => begunWords(one, at)) : [];
  const by = alarm.by === null ? "" : ` by ${alarm.by.replaceAll("-", " ")}`;
  return `${words}${by}${begun.length === 0 ? "" : ` (${begun.join("; ")})`}`;
}
