import type { UnitView } from "../collector/fleet-view.ts";
import { oxygenWords } from "../dashboard/found-words.ts";
import { isActive } from "../dashboard/urgency.ts";
import { alarmWords } from "../dashboard/words.ts";
import { visible } from "../terms/text.ts";
import { age, day } from "../terms/time.ts";
import type { HandoverInput } from "./handover-input.ts";
import { placeOf } from "./handover-now.ts";
import { localTimes } from "./local.ts";

/** A service that is due within this is told: a week to plan the visit (house choice). */
const dueSoonMs = 7 * day;

/** Water changes: a reading of oxygen tells no longer than this (house choice). */
const oxygenTellsMs = 7 * day;

/** What is no alarm and wants an eye: planned work, what is due soon, silent units, baselines. */
export function toWatch(input: HandoverInput): string[] {
  return [...lowOxygen(input), ...prompts(input), ...dueSoon(input), ...silent(input), ...baselines(input)];
}

function lowOxygen({ view }: HandoverInput): string[] {
  const { moment } = localTimes(view.timezone, view.clockMs);
  return view.units.flatMap((unit) => {
    const low = unit.found?.lowOxygen;
    if (low === undefined || low.atMs < view.clockMs - oxygenTellsMs) return [];
    const who = low.by === undefined ? "" : `, by ${visible(low.by)}`;
    const what = `${low.mgL.toFixed(1)} mg/L at ${moment(low.atMs)}${who}; ${oxygenWords(low.mgL) ?? ""}`;
    return [`${placeOf(unit)}: dissolved oxygen ${what}. Measure it again, best before dawn`];
  });
}

function prompts({ view }: HandoverInput): string[] {
  return view.units.flatMap((unit) =>
    unit.alarms
      .filter((alarm) => alarm.priority === "prompt" && isActive(alarm))
      .map(({ alarm, message }) => `${placeOf(unit)}: ${alarmWords(alarm)}: ${visible(message)}`),
  );
}

function dueSoon({ view }: HandoverInput): string[] {
  const { date } = localTimes(view.timezone, view.clockMs);
  const nowMs = view.clockMs;
  // What is overdue, or due by fouling, is a prompt already.
  return view.units.flatMap((unit) =>
    (unit.upkeep?.works ?? [])
      .filter(({ dueMs, because }) => because === "interval" && dueMs >= nowMs && dueMs <= nowMs + dueSoonMs)
      .map(({ work, dueMs }) => `${placeOf(unit)}: ${work} due on ${date(dueMs)}, in ${age(dueMs - nowMs)}`),
  );
}

function silent({ view }: HandoverInput): string[] {
  const { moment } = localTimes(view.timezone, view.clockMs);
  return view.units
    .filter(({ state, problem }) => state === "no readings" && problem === null)
    .map((unit) => {
      const last = unit.lastReadingMs === null ? "none yet" : `the last at ${moment(unit.lastReadingMs)}`;
      return `${placeOf(unit)}: no readings, ${last}`;
    });
}

function baselines({ view }: HandoverInput): string[] {
  const ids = (units: readonly UnitView[]): string => units.map(({ id }) => visible(id)).join(", ");
  const of = (baseline: UnitView["baseline"]): string =>
    ids(
      view.units.filter(
        (one) => one.baseline === baseline && !one.baselineAsks && one.lastReadingMs !== null,
      ),
    );
  const lines: readonly (readonly [string, string])[] = [
    [
      "Baselines that ask for an answer (`check` says why)",
      ids(view.units.filter((one) => one.baselineAsks)),
    ],
    ["Provisional baselines, that nobody has confirmed", of("provisional")],
    ["Without a baseline, so that few alarms can judge", of(null)],
  ];
  return lines.filter(([, named]) => named !== "").map(([what, named]) => `${what}: ${named}`);
}
