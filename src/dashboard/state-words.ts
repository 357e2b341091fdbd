import type { AlarmView, UnitView } from "../collector/fleet-view.ts";
import { begunWords } from "./saying/service-actions.ts";
import { alarmStateWords } from "./words.ts";

/** How an alarm stands, with who and until when: `acknowledged by Ann 03:12`; `at` writes a moment. */
export function stateWords(alarm: AlarmView, at: (timeMs: number) => string): string {
  const words = alarmStateWords[alarm.state];
  const { acknowledged } = alarm;
  return alarm.state === "active-acknowledged" && acknowledged !== undefined
    ? `${words} by ${acknowledged.by} ${at(acknowledged.atMs)}`
    : words;
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
