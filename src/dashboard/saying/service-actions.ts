import type { Said } from "../../collector/keeping.ts";
import { longestServiceMs, usualServiceMs } from "../../fleet/services.ts";
import type { ServiceRecord } from "../../fleet/unit.ts";
import { age, day, minute } from "../../terms/time.ts";
import { at, type Prepared, type Problem, type Speaking } from "./prepared.ts";
import { readLength, readTime, readWork, remark } from "./reading.ts";

const suppressed =
  "The unit's process alarms, high ones too, are suppressed meanwhile (ozone, overcurrent and locked-rotor alarms are not).";

export function begin(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const read = readWork(words, "begin cleaning 2h");
  if ("problem" in read) return read;
  const length = readLength(read.rest) ?? { value: usualServiceMs, rest: read.rest };
  if ("problem" in length) return length;
  const { value: work } = read;
  const { value: lastsMs, rest } = length;
  if (lastsMs > longestServiceMs) return { problem: `a service lasts ${longestServiceMs / day} d at most` };
  const { unit, view, by } = speaking;
  const theirs = unit.begun?.find((one) => one.work === work && one.by !== by);
  if (theirs !== undefined) {
    // To take one's own back would end theirs.
    const who = theirs.by === undefined ? "" : `, by ${theirs.by}`;
    return {
      problem: `${unit.id}: ${work} is begun already${who} since ${at(theirs.atMs, speaking)}; write end ${work} once it is over`,
    };
  }
  const until = (atMs: number): string => `ends by itself at ${at(atMs + lastsMs, speaking)}`;
  return {
    what: `${unit.id}: begin ${work}, which ${until(view.clockMs)}`,
    asks: suppressed,
    said: (atMs) => [record({ work, step: "begin", atMs, untilMs: atMs + lastsMs }, speaking, atMs, rest)],
    done: (atMs) => `${unit.id}: ${work} begun by ${by}, ${until(atMs)}`,
  };
}

export function end(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const { unit, by } = speaking;
  const begun = unit.begun ?? [];
  const [only, ...others] = begun.filter((one) => one.work !== "planned stop");
  const read = readWork(
    words.length === 0 && only !== undefined && others.length === 0 ? [only.work] : words,
    "end cleaning",
  );
  if ("problem" in read) return read;
  const { value: work, rest } = read;
  if (!begun.some((one) => one.work === work)) {
    const what = begun.map((one) => one.work).join(", ") || "nothing";
    return {
      problem: `${unit.id}: no ${work} is begun (begun: ${what}); for one that is over write done ${work}`,
    };
  }
  return {
    what: `${unit.id}: end ${work}`,
    asks: null,
    said: (atMs) => [record({ work, step: "end", atMs }, speaking, atMs, rest)],
    done: () => `${unit.id}: ${work} ended by ${by}; it counts as done`,
  };
}

export function done(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const read = readWork(words, "done inspection 14:30");
  if ("problem" in read) return read;
  const { unit, view, by } = speaking;
  const time = readTime(read.rest, view);
  if (time !== null && "problem" in time) return time;
  if (time !== null && time.value > view.clockMs)
    return { problem: "that time lies ahead; a stop that is meant is planned: write plan" };
  const { value: work } = read;
  const when = time === null ? "now" : `at ${at(time.value, speaking)}`;
  // What is begun of it is over by it: its end counts as done.
  const begun = unit.begun?.find((one) => one.work === work && one.atMs <= (time?.value ?? view.clockMs));
  const ends = begun === undefined ? "" : `; it ends what was begun at ${at(begun.atMs, speaking)}`;
  const step = begun === undefined ? "done" : "end";
  return {
    what: `${unit.id}: put ${work} on record as done ${when}${ends}`,
    asks: "It counts from then when the next is due, and a record is not taken back.",
    said: (atMs) => [
      record({ work, step, atMs: time?.value ?? atMs }, speaking, atMs, time?.rest ?? read.rest),
    ],
    done: () => `${unit.id}: ${work} done ${when}, on record by ${by}${ends}`,
  };
}

export function plan(words: readonly string[], speaking: Speaking): Prepared | Problem {
  const { unit, view, by } = speaking;
  const example = "plan 14:30 18:00 pond drained";
  const from = readTime(words, view);
  if (from === null) return { problem: `a stop is planned from, until and why; write ${example}` };
  if ("problem" in from) return from;
  const until = readEnd(from.rest, from.value, speaking);
  if (until === null) return { problem: `until when? write a time or a length: ${example}` };
  if ("problem" in until) return until;
  const [fromMs, untilMs] = [from.value, until.value];
  if (fromMs < view.clockMs - minute)
    return {
      problem: "that begin is over; write now, or a time to come: with its day where it is not today",
    };
  if (untilMs <= fromMs)
    return { problem: `that end is not after the begin; write its day too: 2026-05-04 06:00, or a length` };
  const why = remark(until.rest);
  if (why === "") return { problem: `say what the stop is for; write ${example}` };
  const when = `from ${at(fromMs, speaking)} until ${at(untilMs, speaking)}, for ${age(untilMs - fromMs)}`;
  return {
    what: `${unit.id}: plan a stop ${when}: ${why}`,
    asks: suppressed,
    said: (atMs) => [
      record({ work: "planned stop", step: "begin", atMs: fromMs, untilMs }, speaking, atMs, until.rest),
    ],
    done: () => `${unit.id}: stop planned by ${by} ${when}`,
  };
}

/** The end of a stop: a time, or how long it lasts (a number with its unit). */
function readEnd(words: readonly string[], fromMs: number, { view }: Speaking) {
  const [first = ""] = words;
  if (/^\d+(\.\d+)?($|[a-z])/i.test(first)) {
    const length = readLength(words);
    return length === null || "problem" in length ? length : { ...length, value: fromMs + length.value };
  }
  return readTime(words, view);
}

export function baseline([answer, ...rest]: readonly string[], speaking: Speaking): Prepared | Problem {
  const { unit, by } = speaking;
  if (answer !== "confirm" && answer !== "relearn")
    return { problem: "is the baseline right? write baseline confirm, or baseline relearn" };
  if (answer === "confirm" && unit.baseline === null)
    return {
      problem: `${unit.id}: there is no baseline to confirm yet; it is learned from the first steady running`,
    };
  return {
    what: `${unit.id}: baseline ${answer}`,
    asks:
      answer === "confirm"
        ? "All alarms of the unit are held against it: the unit runs clean as it is."
        : "The next steady running is taken for clean, and all alarms are held against it.",
    said: (atMs) => [record({ work: "baseline", step: answer, atMs }, speaking, atMs, rest)],
    done: () =>
      answer === "confirm"
        ? `${unit.id}: its baseline is confirmed by ${by}`
        : `${unit.id}: its baseline is learned anew, by ${by}; the old one holds until then`,
  };
}

function record(
  what: Omit<ServiceRecord, "unit" | "by" | "note">,
  { unit, by }: Speaking,
  saidMs: number,
  words: readonly string[],
): Said {
  const text = remark(words);
  return {
    kind: "service",
    record: {
      ...what,
      id: crypto.randomUUID(),
      unit: unit.id,
      by,
      saidMs,
      ...(text !== "" && { note: text }),
    },
  };
}

/** `cleaning by Ann since 03:14, ends by itself at 11:14`: what is begun at a unit. */
export function begunWords({ work, by, atMs, untilMs, note }: ServiceRecord, moment: (ms: number) => string) {
  const who = by === undefined ? "" : ` by ${by}`;
  const ends = untilMs === undefined ? "" : `, ends by itself at ${moment(untilMs)}`;
  return `${work}${who} since ${moment(atMs)}${ends}${note === undefined ? "" : `: ${note}`}`;
}
