import { z } from "zod";
import { priorities } from "../terms/alarms.ts";
import { hour, minute, second } from "../terms/time.ts";
import { takes } from "./json-schema.ts";
import { isMapping } from "./merge.ts";
import { meant } from "./nearest.ts";
import type { Duty, Hours, Notify, Rota, SendLine } from "./notify.ts";
import type { Problem } from "./problems.ts";
import { duration, quoted } from "./quantity.ts";
import { parseWindow } from "./schedule-schema.ts";
import { handOn, mapping, oneOf, text, understood } from "./schema.ts";
import { way } from "./ways-schema.ts";

const weekdays = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"];

/** `mon`, or `mon-fri`, as days of the week, 0 for Sunday. */
function parseDays(written: string): readonly number[] | undefined {
  const [first = -1, last = first] = written
    .split(/\s*-\s*/)
    .map((name) => weekdays.indexOf(name.toLowerCase()));
  if (first < 0 || last < 0 || written.split("-").length > 2) return undefined;
  return Array.from({ length: ((last - first + 7) % 7) + 1 }, (_, i) => (first + i) % 7);
}

/** `2026-12-24` as year × 10 000 + month × 100 + day. */
function parseDay(written: string): number | undefined {
  const [year = 0, month = 0, day = 0] = (/^(\d{4})-(\d{2})-(\d{2})$/.exec(written) ?? [])
    .slice(1)
    .map(Number);
  const date = new Date(Date.UTC(year, month - 1, day));
  const exists = year > 0 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return exists ? year * 10_000 + month * 100 + day : undefined;
}

/** One of a kind, or a list of them. */
function oneOrMore<T>(one: z.ZodType<T>): z.ZodType<readonly T[]> {
  const several = z.array(one).min(1);
  const list = z
    .unknown()
    .transform((value, context): readonly T[] =>
      Array.isArray(value) ? handOn(several, value, context) : [handOn(one, value, context)],
    );
  return takes(list, () => z.union([one, several]));
}

const hours: z.ZodType<readonly Hours[]> = oneOrMore(
  understood(parseWindow, "a stretch of the day", "22:00-07:00"),
);
const days: z.ZodType<readonly number[]> = oneOrMore(
  understood(parseDays, "a day of the week", "mon, or mon-fri"),
).transform((lists) => lists.flat());
const calendarDay = understood(parseDay, "a day", "2026-12-24");
const name = text("the name of a way or a rota");

const duty = mapping({
  way: text("the name of a way"),
  days: days.optional(),
  hours: hours.optional(),
  from: calendarDay.optional(),
  until: calendarDay.optional(),
}).transform(
  (written): Duty => ({
    way: written.way,
    days: written.days,
    hours: written.hours,
    fromDay: written.from,
    untilDay: written.until,
  }),
);

const line = mapping({
  to: oneOrMore(name),
  at_least: oneOf(priorities).default("low"),
  sites: oneOrMore(text("the name of a site")).optional(),
  hours: hours.optional(),
  escalate_after: duration({ min: minute, max: 24 * hour }).default(15 * minute),
  escalate_to: z.array(oneOrMore(name)).default([]),
});

/** Keys that are names; a record would drop this one without a word. */
function byName<T>(of: z.ZodType<T>): z.ZodType<Record<string, T>> {
  const names = z.unknown().superRefine((value, context) => {
    if (!isMapping(value) || !Object.hasOwn(value, "__proto__")) return;
    const message = "'__proto__' cannot be a name here; write another";
    context.addIssue({ code: "custom", path: ["__proto__"], message });
  });
  return takes(
    z.preprocess((value) => value ?? {}, names.pipe(z.record(z.string(), of))),
    () => z.record(z.string(), of),
  );
}

/** `notify` of the fleet file. */
export const notify = mapping({
  ways: byName(way),
  rota: byName(z.array(duty).min(1)),
  send: z.array(line).min(1).optional(),
  quiet_hours: hours.default([]),
  group_within: duration({ min: 0, max: hour }).default(minute),
  tell_return: z.boolean().default(false),
}).transform((written): Notify => {
  const named = Object.entries(written.ways).map(([name, make]) => make(name));
  const everything = {
    to: named.map((way) => way.name),
    at_least: "low",
    escalate_after: 15 * minute,
    escalate_to: [],
  } as const;
  const asked = new Map<string, number>();
  const lines = (written.send ?? [everything]).map((sent): SendLine => {
    const to = sent.to.join(", ");
    const times = (asked.get(to) ?? 0) + 1;
    asked.set(to, times);
    return {
      name: times === 1 ? to : `${to} (${times})`,
      to: sent.to,
      atLeast: sent.at_least,
      escalateAfterMs: sent.escalate_after,
      escalateTo: sent.escalate_to,
      ...("sites" in sent && { sites: sent.sites }),
      ...("hours" in sent && { hours: sent.hours }),
    };
  });
  return {
    ways: named,
    rotas: Object.entries(written.rota).map(([name, duties]): Rota => ({ name, duties })),
    send: lines,
    quietHours: written.quiet_hours,
    groupWithinMs: Math.max(written.group_within, second),
    tellReturn: written.tell_return,
  };
});

/** What `notify` names and is not there: each problem at its place in the file. */
export function notifyProblems(written: Notify, sites: readonly string[]): readonly Problem[] {
  const ways = written.ways.map((way) => way.name);
  const rotas = written.rotas.map((rota) => rota.name);
  const problems: Problem[] = [];
  const look = (wanted: string, known: readonly string[], what: string, path: readonly PropertyKey[]) => {
    if (known.includes(wanted)) return;
    const has = known.length === 0 ? "; none is written" : meant(wanted, known);
    problems.push({ path: ["notify", ...path], problem: `${quoted(wanted)} is no ${what}${has}` });
  };
  if (ways.length === 0) {
    const problem = 'no way is written; write one, such as phone: { command: [send-sms, "+15550100"] }';
    problems.push({ path: ["notify", "ways"], problem });
  }
  for (const rota of written.rotas) {
    if (ways.includes(rota.name)) {
      const problem = `${quoted(rota.name)} is a way already; write another name`;
      problems.push({ path: ["notify", "rota", rota.name], problem });
    }
    for (const [i, { way }] of rota.duties.entries()) look(way, ways, "way", ["rota", rota.name, i, "way"]);
  }
  for (const [i, { to, escalateTo, sites: at = [] }] of written.send.entries()) {
    for (const wanted of to) look(wanted, [...ways, ...rotas], "way or rota", ["send", i, "to"]);
    for (const wanted of escalateTo.flat())
      look(wanted, [...ways, ...rotas], "way or rota", ["send", i, "escalate_to"]);
    for (const wanted of at) look(wanted, sites, "site of this fleet", ["send", i, "sites"]);
  }
  return problems;
}
