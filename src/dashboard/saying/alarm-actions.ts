import type { SetAside, UnitView } from "../../collector/fleet-view.ts";
import type { Said } from "../../collector/keeping.ts";
import { type AlarmName, alarmNames, comparePriority } from "../../terms/alarms.ts";
import { counted } from "../../terms/text.ts";
import { age, day } from "../../terms/time.ts";
import { longestShelvingMs, type Word } from "../../terms/words.ts";
import { alarmWords, priorityMark } from "../words.ts";
import { acknowledgement, before, named, unanswered, waitingAt } from "./acknowledge.ts";
import { at, type Prepared, type Problem, type Speaking } from "./prepared.ts";
import { readAlarm, readLength, remark } from "./reading.ts";

/** So many units are named with their alarms before they are acknowledged at once. */
const mostNamed = 12;

type Meant = AlarmName | "all";

export function acknowledge(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const { unit, view } = speaking;
  const read = readAlarm(words, ["all", "site"], "acknowledge all");
  if ("problem" in read) return read;
  const note = remark(read.rest);
  if (read.value === "site") return acknowledgeSite(speaking, note);
  const waiting = waitingAt([unit]);
  if (waiting.length === 0) return { problem: firstBy(read.value, speaking) };
  if (read.value === "all") {
    const asks = waiting.length === 1 ? null : `All that waits at the unit: ${named(waiting)}.`;
    return acknowledgement(waiting, unit.id, speaking, note, asks);
  }
  const one = waiting.filter(({ alarm }) => alarm.alarm === read.value);
  if (one.length > 0) return acknowledgement(one, unit.id, speaking, note);
  const names = waiting.map(({ alarm }) => alarm.alarm).join(", ");
  const answered = view.units.length > 0 && unit.alarms.some(({ alarm }) => alarm === read.value);
  return {
    problem: answered
      ? firstBy(read.value, speaking)
      : `no ${read.value} waits at ${unit.id}; waiting: ${names}`,
  };
}

/** A unit's alarms that are in sight, as `y` says it: nobody has seen the others. */
export function acknowledgeSeen(speaking: Speaking, inSight: ReadonlySet<AlarmName>): Prepared | Problem {
  const { unit } = speaking;
  const waiting = waitingAt([unit]);
  if (waiting.length === 0) return { problem: firstBy("all", speaking) };
  const seen = waiting.filter(({ alarm }) => inSight.has(alarm.alarm));
  const unseen = waiting.length - seen.length;
  const wait = unseen === 1 ? "1 alarm waits" : `${unseen} alarms wait`;
  const rest = `${wait} out of sight; y acknowledges what is shown`;
  if (seen.length === 0) return { problem: `${unit.id}: ${rest}` };
  const prepared = acknowledgement(seen, unit.id, speaking, "");
  if (unseen === 0) return prepared;
  return { ...prepared, besides: rest };
}

/** Nothing waits: who has acknowledged it, where somebody has. */
function firstBy(meant: Meant, speaking: Speaking): string {
  const { unit } = speaking;
  const answered = unit.alarms.find(
    ({ alarm, acknowledged }) => acknowledged !== undefined && (meant === "all" || alarm === meant),
  );
  if (answered?.acknowledged === undefined) return `${unit.id}: nothing waits to be acknowledged`;
  const { by, atMs } = answered.acknowledged;
  return `${unit.id}: ${alarmWords(answered.alarm)} was acknowledged by ${by} at ${at(atMs, speaking)}`;
}

function acknowledgeSite(speaking: Speaking, note: string): Prepared | Problem {
  const { unit, view } = speaking;
  if (unit.site === null)
    return { problem: `${unit.id} has no site in the fleet file; write acknowledge all` };
  const seen = waitingAt(view.units.filter(({ site }) => site === unit.site));
  if (seen.length === 0) return { problem: `${unit.site}: nothing waits to be acknowledged` };
  const ids = [...new Set(seen.map((one) => one.unit.id))];
  const high = seen.filter(({ alarm }) => alarm.priority === "high").length;
  const units = `${counted(ids.length, "unit")}${high === 0 ? "" : `; ${priorityMark.high} ${high} high`}`;
  const shown = ids.slice(0, mostNamed);
  const each = shown.map((id) => `${id} ${named(seen.filter((one) => one.unit.id === id))}`).join("; ");
  const more = ids.length - shown.length;
  const others = more === 0 ? "" : `; and ${counted(more, "unit")} more, which 2 lists: look at them first`;
  const asks = `A whole site: ${units}. ${each}${others}. Nobody else will be called for these.`;
  return acknowledgement(seen, unit.site, speaking, note, asks);
}

export function shelve(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const read = readAlarm(words, ["all"], "shelve lost-prime 2h");
  if ("problem" in read) return read;
  const meant = read.value;
  const length = readLength(read.rest);
  if (length === null) return { problem: `a shelving has an end; write how long: shelve ${meant} 2h` };
  if ("problem" in length) return length;
  const lastsMs = length.value;
  if (lastsMs > longestShelvingMs) {
    return {
      problem: `a shelving lasts ${longestShelvingMs / day} d at most; for longer write out-of-service ${meant}`,
    };
  }
  const until = (atMs: number): string => `until ${at(atMs + lastsMs, speaking)}, for ${age(lastsMs)}`;
  const { unit, view } = speaking;
  const text = remark(length.rest);
  const silences = whatItSilences(meant, unit);
  return {
    what: `${unit.id}: shelve ${nameOf(meant)} ${until(view.clockMs)}`,
    asks: silences === null ? null : silences + unwatched(text),
    said: (atMs) => [say("shelve", meant, speaking, atMs, text, { untilMs: atMs + lastsMs })],
    done: (atMs) => `${unit.id}: ${nameOf(meant)} shelved by ${speaking.by} ${until(atMs)}`,
  };
}

export function outOfService(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const read = readAlarm(words, ["all"], "out-of-service sensor-fault gauge ordered");
  if ("problem" in read) return read;
  const meant = read.value;
  const { unit, by } = speaking;
  const already = (within: UnitView) =>
    within.setAside.find(({ alarm, state }) => alarm === meant && state === "out-of-service");
  const standing = already(unit);
  if (standing !== undefined) {
    return {
      problem: `${unit.id}: ${nameOf(meant)} is out of service already, by ${standing.by} since ${at(standing.atMs, speaking)}`,
    };
  }
  const text = remark(read.rest);
  const silences = whatItSilences(meant, unit);
  return {
    what: `${unit.id}: take ${nameOf(meant)} out of service`,
    asks: `${silences === null ? "" : `${silences} `}Without an end: until somebody returns it.${unwatched(text)}`,
    said: (atMs) => [say("out-of-service", meant, speaking, atMs, text)],
    done: () => `${unit.id}: ${nameOf(meant)} out of service by ${by}`,
    first: (atMs, view) => {
      const now = view.units.find(({ id }) => id === unit.id);
      if (meant === "all" || now === undefined) return null;
      const first = already(now);
      if (first === undefined) return undefined;
      if (first.by === by && first.atMs === atMs) return null;
      return `${unit.id}: ${nameOf(meant)} was taken out of service by ${first.by} ${before(atMs - first.atMs)}`;
    },
  };
}

export function unshelve(words: readonly string[], speaking: Speaking): Prepared | Problem {
  return bringBack("unshelve", "shelved", "back from the shelf", words, speaking);
}

export function returnToService(words: readonly string[], speaking: Speaking): Prepared | Problem {
  return bringBack("return-to-service", "out-of-service", "back in service", words, speaking);
}

function bringBack(
  action: "unshelve" | "return-to-service",
  state: SetAside["state"],
  back: string,
  words: readonly string[],
  speaking: Speaking,
): Prepared | Problem {
  const read = readAlarm(words, ["all"], `${action} all`);
  if ("problem" in read) return read;
  const meant = read.value;
  const { unit, by } = speaking;
  const names = unit.setAside.filter((one) => one.state === state).map(({ alarm }) => alarm);
  if (names.length === 0 || (meant !== "all" && !names.includes(meant))) {
    const what = `${nameOf(meant)} is not ${state.replaceAll("-", " ")}`;
    return { problem: `${unit.id}: ${what}; what is: ${names.join(", ") || "nothing"}` };
  }
  return {
    what: `${unit.id}: ${nameOf(meant)} ${back}`,
    asks: null,
    said: (atMs) => [say(action, meant, speaking, atMs, remark(read.rest))],
    done: () => `${unit.id}: ${nameOf(meant)} ${back}, by ${by}`,
  };
}

export function note(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const read = readAlarm(words, ["all"], "note all the pond is low");
  if ("problem" in read) return read;
  const text = remark(read.rest);
  if (text === "") return { problem: `a note says something; write note ${read.value} the pond is low` };
  const { unit, by } = speaking;
  return {
    what: `${unit.id}: note on ${nameOf(read.value)}`,
    asks: null,
    said: (atMs) => [say("note", read.value, speaking, atMs, text)],
    done: () => `${unit.id}: noted on ${nameOf(read.value)} by ${by}`,
  };
}

function say(
  action: Word["action"],
  alarm: Meant,
  { unit, by }: Speaking,
  atMs: number,
  text: string,
  more: Pick<Word, "untilMs"> = {},
): Said {
  const word = { id: crypto.randomUUID(), atMs, unit: unit.id, alarm, action, by, ...more };
  return { kind: "word", word: { ...word, ...(text !== "" && { note: text }) } };
}

/** What nobody would be told of: a high alarm, one that may be high when it comes, all alarms; null: a lesser one that stands. */
function whatItSilences(meant: Meant, unit: UnitView): string | null {
  const standing = unit.alarms.filter(({ alarm }) => meant === "all" || alarm === meant);
  const high = standing.filter(({ priority }) => priority === "high").map(({ alarm }) => alarmWords(alarm));
  const now = high.length === 0 ? "" : ` Now: ${priorityMark.high} ${high.join(", ")}.`;
  if (meant === "all") return `All ${alarmNames.length} alarms of the unit, high ones too.${now}`;
  if (high.length > 0) return `It is a high alarm, and it stands.`;
  return standing.length > 0 ? null : "It does not stand now: nobody would be told when it comes.";
}

/** A shelved alarm is a pump that nobody watches for that. */
function unwatched(text: string): string {
  return text === "" ? " No note says who watches it meanwhile." : "";
}

export function nameOf(meant: Meant): string {
  return meant === "all" ? "all alarms" : alarmWords(meant);
}

/** Alarms worth offering first: those that wait, then those that stand, then the rest. */
export function offeredAlarms(unit: UnitView): readonly AlarmName[] {
  const standing = unit.alarms.toSorted((a, b) => comparePriority(a.priority, b.priority));
  const waiting = new Set(unanswered(unit));
  const first = [...standing.filter((one) => waiting.has(one)), ...standing].map(({ alarm }) => alarm);
  return [...new Set([...first, ...alarmNames])];
}
