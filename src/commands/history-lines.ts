import type { Heard } from "../assess/heard.ts";
import { type KeptWords, messageIn } from "../collector/event-words.ts";
import type { Served } from "../collector/served.ts";
import { fullTime } from "../dashboard/local-time.ts";
import { alarmWords } from "../dashboard/words.ts";
import type { Fleet } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { iso } from "../terms/time.ts";

interface KeptEvent extends KeptWords {
  readonly time: string;
  readonly unit: string;
  readonly event: string;
  readonly priority: string;
  readonly by?: string;
}

/** A line as `replay --events` writes it, for people. */
export function eventText(line: string, { timezone, display, units }: Fleet): string {
  const event = JSON.parse(line) as KeptEvent;
  const by = event.by === undefined ? "" : ` by ${event.by}`;
  const what = `${event.event}${by}`.padEnd(12);
  const unit = units.find(({ id }) => id === event.unit);
  return `${fullTime(Date.parse(event.time), timezone)}  ${event.unit}  ${what}  ${event.priority.padEnd(6)}  ${alarmWords(event.alarm)}: ${messageIn(event, unit, display)}`;
}

/** A person's word, or the end of a shelving, for people. */
export function heardText(heard: Heard, timezone: string): string {
  const { timeMs, unit, alarm, event, by, note, untilMs, already, except = [] } = heard;
  const until = untilMs === undefined ? "" : ` until ${fullTime(untilMs, timezone)}`;
  const words = note === undefined ? "" : `: ${visible(note)}`;
  const first = already && `; ${visible(already.by)} had, at ${fullTime(already.timeMs, timezone)}`;
  const but = except.length === 0 ? "" : ` but ${except.map(alarmWords).join(", ")}`;
  const who = by === undefined ? "its time is over" : `by ${visible(by)}`;
  return `${fullTime(timeMs, timezone)}  ${unit}  ${event} ${who}${until}  ${alarmWords(alarm)}${but}${first ?? ""}${words}`;
}

/** The same as a script reads it. */
export function heardJson(heard: Heard): unknown {
  const { timeMs, unit, alarm, event, by, note, untilMs, already, except, row } = heard;
  return {
    time: iso(timeMs),
    unit,
    alarm,
    event,
    ...(by !== undefined && { by }),
    ...(note !== undefined && { note }),
    ...(untilMs !== undefined && { until: iso(untilMs) }),
    ...(already && { already_by: already.by, already_at: iso(already.timeMs) }),
    ...(except && { except }),
    word: row,
  };
}

/** A service, or what else was done at a unit, for people. */
export function servedText(served: Served, timezone: string): string {
  const { timeMs, unit, work, event, by, note, fromMs, untilMs, saidMs } = served;
  const at = (ms: number): string => fullTime(ms, timezone);
  const name = work === "planned stop" ? "stop" : work;
  const what = event === "relearned" ? "to be learned anew" : event;
  const who = by === undefined ? "by itself" : `by ${visible(by)}`;
  const from = fromMs === undefined ? "" : ` from ${at(fromMs)}`;
  const until = untilMs === undefined ? "" : ` until ${at(untilMs)}`;
  const said = saidMs === undefined ? "" : `, put on record ${at(saidMs)}`;
  const words = note === undefined ? "" : `: ${visible(note)}`;
  return `${at(timeMs)}  ${unit}  ${name} ${what} ${who}${from}${until}${said}${words}`;
}

/** The same as a script reads it. */
export function servedJson(served: Served): unknown {
  const { timeMs, unit, work, event, by, note, fromMs, untilMs, saidMs, row } = served;
  return {
    time: iso(timeMs),
    unit,
    service: work,
    event: event.replaceAll(" ", "-"),
    ...(by !== undefined && { by }),
    ...(note !== undefined && { note }),
    ...(fromMs !== undefined && { from: iso(fromMs) }),
    ...(untilMs !== undefined && { until: iso(untilMs) }),
    ...(saidMs !== undefined && { said: iso(saidMs) }),
    ...(row !== undefined && { record: row }),
  };
}
