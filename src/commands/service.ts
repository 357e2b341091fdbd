import { randomUUID } from "node:crypto";
import { nearest } from "../fleet/nearest.ts";
import {
  longestServiceMs,
  takesBack,
  usualServiceMs,
  type Work,
  withLapses,
  works,
} from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { addService, type SaidService, servicesAfter } from "../store/services.ts";
import { visible } from "../terms/text.ts";
import { age, iso } from "../terms/time.ts";
import { instant } from "./check.ts";
import { CannotWork, print } from "./context.ts";
import { type KeptState, lengthOf, must, onKeptState, speaker } from "./kept-state.ts";
import { unitIn } from "./load-fleet.ts";

export interface ServiceOptions {
  readonly by?: string;
  readonly note?: string;
  readonly at?: string;
  readonly for?: string;
  readonly state?: string;
}

export interface PlanOptions extends Pick<ServiceOptions, "by" | "state"> {
  readonly from: string;
  readonly until: string;
  readonly why: string;
}

/** `service begin|end|done`: what is being done at a unit, or was. */
export function record(
  step: "begin" | "end" | "done",
  fleetPath: string,
  unit: string,
  workName: string,
  options: ServiceOptions,
): Promise<number> {
  if (!(works as readonly string[]).includes(workName)) {
    throw new CannotWork(`'${visible(workName)}' is no kind of service; write ${nearest(workName, works)}`);
  }
  const work = workName as Work;
  if (options.for !== undefined && step !== "begin")
    throw new CannotWork(`--for goes with begin, not ${step}`);
  return onKeptState(fleetPath, options, (kept) => {
    const nowMs = Date.now();
    const atMs = options.at === undefined ? nowMs : instant(options.at, "--at");
    if (atMs > nowMs) throw new CannotWork("--at lies ahead; a stop that is meant is planned: service plan");
    const lastsMs = options.for === undefined ? usualServiceMs : lengthOf(options.for);
    if (lastsMs > longestServiceMs) throw new CannotWork("--for: a service lasts 14 d at most");
    const open = openWorks(recordsOf(kept, unit), nowMs).find((one) => one.work === work);
    if (step === "end" && open === undefined) {
      throw new CannotWork(`${unit}: no ${work} is begun there; write service done for one that is over`);
    }
    const untilMs = step === "begin" ? atMs + lastsMs : undefined;
    keep(kept, { unit, work, step, atMs, ...(untilMs && { untilMs }) }, options);
    const words = {
      begin: `${work} begun; its alarms are suppressed until ${iso(untilMs ?? 0)} at the latest (ozone, overcurrent and locked-rotor alarms are not)`,
      end: `${work} ended`,
      done: `${work} on record`,
    };
    print(`${unit}: ${words[step]}`);
    return 0;
  });
}

/** `service plan`: a stop that is meant. */
export function plan(fleetPath: string, unit: string, options: PlanOptions): Promise<number> {
  return onKeptState(fleetPath, options, (kept) => {
    const atMs = instant(options.from, "--from");
    const untilMs = instant(options.until, "--until");
    if (untilMs <= atMs) throw new CannotWork("--until comes after --from");
    if (untilMs <= Date.now()) throw new CannotWork("--until is over already; a plan is for a time to come");
    if (options.why.trim() === "")
      throw new CannotWork('--why: say what the stop is for, such as "pond drained"');
    const stop = { unit, work: "planned stop", step: "begin", atMs, untilMs } as const;
    keep(kept, stop, { ...options, note: options.why });
    print(`${unit}: stop planned from ${iso(atMs)} until ${iso(untilMs)}`);
    return 0;
  });
}

/** `service baseline`: the answer to what a unit asks of its baseline. */
export function baseline(
  fleetPath: string,
  unit: string,
  answer: string,
  options: Pick<ServiceOptions, "by" | "note" | "state">,
): Promise<number> {
  if (answer !== "confirm" && answer !== "relearn") {
    throw new CannotWork(`'${visible(answer)}' is no answer; write confirm or relearn`);
  }
  return onKeptState(fleetPath, options, (kept) => {
    keep(kept, { unit, work: "baseline", step: answer, atMs: Date.now() }, options);
    print(
      answer === "confirm"
        ? `${unit}: its baseline is confirmed`
        : `${unit}: its baseline is learned anew from the next steady running; the old one holds until then`,
    );
    return 0;
  });
}

/** `service`: what is begun, planned and due at each unit. */
export function due(fleetPath: string | undefined, options: Pick<ServiceOptions, "state">): Promise<number> {
  return onKeptState(fleetPath, options, (kept) => {
    const nowMs = Date.now();
    let lines = 0;
    for (const { id } of kept.fleet.units) {
      const records = recordsOf(kept, id);
      for (const line of [...standingLines(records, nowMs), ...dueLines(kept, id, records, nowMs)]) {
        print(`${id}  ${line}`);
        lines++;
      }
    }
    if (lines === 0) print("no service is begun, planned or on record");
    return 0;
  });
}

function standingLines(records: readonly ServiceRecord[], nowMs: number): string[] {
  const open = openWorks(records, nowMs).map(
    ({ work, atMs, untilMs }) =>
      `${work} since ${iso(atMs)}${untilMs === undefined ? "" : `, ends by itself at ${iso(untilMs)}`}`,
  );
  const planned = records
    .filter(({ work, step, atMs }) => work === "planned stop" && step === "begin" && atMs > nowMs)
    .filter(({ atMs }, _, planned) => !planned.some((later) => later.atMs === atMs && takesBack(later)))
    .map(({ atMs, untilMs }) => `stop planned from ${iso(atMs)}${untilMs ? ` until ${iso(untilMs)}` : ""}`);
  return [...open, ...planned];
}

function dueLines(
  { fleet }: KeptState,
  id: string,
  records: readonly ServiceRecord[],
  nowMs: number,
): string[] {
  const unit = unitIn(fleet, id);
  return (["inspection", "cleaning"] as const).flatMap((work) => {
    const last = records.findLast(
      (one) => one.work === work && (one.step === "done" || one.step === "end") && one.atMs <= nowMs,
    );
    if (last === undefined) return [];
    const dueMs =
      last.atMs + (work === "cleaning" ? unit.service.cleaningEveryMs : unit.service.inspectionEveryMs);
    const when = dueMs < nowMs ? `overdue by ${age(nowMs - dueMs)}` : `due in ${age(dueMs - nowMs)}`;
    return [`${work} ${when}; last at ${iso(last.atMs)}`];
  });
}

/** A unit's records in order of time: the fleet file's and those that people gave. Throws where there is no such unit. */
function recordsOf({ fleet, db }: KeptState, unit: string): readonly ServiceRecord[] {
  unitIn(fleet, unit);
  const all = [...fleet.services, ...must(servicesAfter(db, 0))].filter((one) => one.unit === unit);
  return withLapses(all).toSorted((a, b) => a.atMs - b.atMs);
}

/** What is begun at `nowMs` and has not ended. */
function openWorks(records: readonly ServiceRecord[], nowMs: number): readonly ServiceRecord[] {
  let open: ServiceRecord[] = [];
  for (const one of records) {
    if (one.atMs > nowMs || one.step === "done") continue;
    open = open.filter(({ work }) => work !== one.work);
    if (one.step === "begin") open.push(one);
  }
  return open;
}

function keep(
  kept: KeptState,
  record: Omit<ServiceRecord, "by" | "note">,
  { by, note }: Pick<ServiceOptions, "by" | "note">,
): void {
  recordsOf(kept, record.unit);
  const said: SaidService = {
    ...record,
    id: randomUUID(),
    by: speaker(by),
    saidMs: Date.now(),
    ...(note && { note: visible(note) }),
  };
  must(addService(kept.db, said));
  if (!kept.collects()) print("no process collects there now: it counts once watch or collect runs");
}
