import type { AlarmView, UnitView } from "../collector/fleet-view.ts";
import { age, second } from "../terms/time.ts";
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

/** How long an alarm's condition has held: ` for 12 min`; nothing of one that is over or set aside. */
export function lastedWords(alarm: AlarmView, nowMs: number): string {
  const untilMs = alarm.clearing?.sinceMs ?? nowMs;
  return isActive(alarm) && !isOver(alarm) ? ` for ${age(untilMs - alarm.sinceMs)}` : "";
}

/** That an alarm's condition is gone, and when that clears it; null where that is not so. */
export function clearingWords(
  { alarm, clearing }: AlarmView,
  nowMs: number,
  at: (timeMs: number) => string,
): string | null {
  if (clearing === undefined) return null;
  const gone = alarm === "not-running" ? "running again" : "no longer so";
  const leftMs = clearing.atMs - nowMs;
  const when = leftMs < second ? "at the next reading" : `in ${age(leftMs)}`;
  return `${gone} since ${at(clearing.sinceMs)}; clears ${when} if it stays so`;
}

/** A message with what must be known before it is read. */
export function messageWords(alarm: AlarmView, nowMs: number, at: (timeMs: number) => string): string {
  const gone = clearingWords(alarm, nowMs, at);
  return gone === null ? alarm.message : `${gone}. ${alarm.message}`;
}

/** How soon somebody must act; of what is over or about to clear, since when. */
export function answerWords(alarm: AlarmView, nowMs: number, at: (timeMs: number) => string): string {
  const { returnedMs, latched, guidance } = alarm;
  if (returnedMs === undefined) return clearingWords(alarm, nowMs, at) ?? guidance.howSoon;
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
