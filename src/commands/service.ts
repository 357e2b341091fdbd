import { moment } from "../dashboard/local-time.ts";
import { longestServiceMs, openWorks, usualServiceMs } from "../fleet/services.ts";
import type { Visit } from "../fleet/visit.ts";
import { gaugeTexts } from "../report/gauge-words.ts";
import { handTexts } from "../report/visit-words.ts";
import { visible } from "../terms/text.ts";
import { age } from "../terms/time.ts";
import type { Work } from "../terms/works.ts";
import { hasBaseline } from "./baseline-there.ts";
import { visitBesideLogger } from "./beside-logger.ts";
import { instant } from "./check.ts";
import { CannotWork, print } from "./context.ts";
import { type KeptState, lengthOf, onKeptState, speaker } from "./kept-state.ts";
import { unitIn } from "./load-fleet.ts";
import { keep, recordsOf, serialAt } from "./service-records.ts";
import { alertsOf, timeOf, type VisitOptions, visitOf } from "./service-visit.ts";
import { stateFolder } from "./state-folder.ts";
import { type BegunWork, begunWords, begunWorks, workNamed, workToEnd } from "./work-meant.ts";

export interface ServiceOptions extends VisitOptions {
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
  workName: string | undefined,
  options: ServiceOptions,
): Promise<number> {
  if (options.for !== undefined && step !== "begin")
    throw new CannotWork(`--for goes with begin, not ${step}`);
  const named = workName === undefined ? undefined : workNamed(workName);
  return onKeptState(fleetPath, options, (kept) => {
    const nowMs = Date.now();
    const visit = visitOf(options, kept.fleet, unitIn(kept.fleet, unit), nowMs);
    const told = step === "begin" ? visit?.arrivedMs : visit?.leftMs;
    const atMs = timeOf(options.at, "--at", kept.fleet, nowMs) ?? told ?? nowMs;
    const begun = begunWorks(openWorks(recordsOf(kept, unit), nowMs));
    const to: Telling = { kept, unit, atMs, nowMs, visit, begun, options };
    if (step === "begin" && named !== undefined) begin(to, named);
    else if (step === "done" && named !== undefined) done(to, named);
    else end(to, workToEnd(unit, workName, begun));
    if (visit !== undefined) tellVisit(kept, unit, atMs, visit);
    return 0;
  });
}

/** What was read by hand as it was understood, with what the logger had, so that a slip is seen at once; and what is to be minded. */
function tellVisit({ db, fleet }: KeptState, unit: string, atMs: number, told: Visit): void {
  const visit = visitBesideLogger(told, unit, atMs, db);
  const read = [...handTexts(visit, fleet.display), ...gaugeTexts(visit, fleet.display)];
  for (const text of read) print(`${unit}: ${text}`);
  for (const alert of alertsOf(unit, visit)) print(alert);
}

/** What a step of a work rests on. */
interface Telling {
  readonly kept: KeptState;
  readonly unit: string;
  readonly atMs: number;
  readonly nowMs: number;
  readonly visit: Visit | undefined;
  readonly begun: readonly BegunWork[];
  readonly options: ServiceOptions;
}

function begin({ kept, unit, atMs, nowMs, visit, begun, options }: Telling, work: Work): void {
  const { timezone } = kept.fleet;
  const open = begun.find((one) => one.work === work);
  if (open !== undefined && open.by !== speaker(options.by)) {
    const who = open.by === undefined ? "" : `, by ${visible(open.by)}`;
    throw new CannotWork(
      `${unit}: ${work} is begun already${who} since ${moment(open.atMs, nowMs, timezone)}; write service end once it is over`,
    );
  }
  const lastsMs = options.for === undefined ? usualServiceMs : lengthOf(options.for);
  if (lastsMs > longestServiceMs) throw new CannotWork("--for: a service lasts 14 d at most");
  const untilMs = atMs + lastsMs;
  keep(kept, { unit, work, step: "begin", atMs, untilMs, ...(visit && { visit }) }, options);
  const until = moment(untilMs, nowMs, timezone);
  if (untilMs <= nowMs) {
    print(
      `${unit}: ${work} begun at ${moment(atMs, nowMs, timezone)} and over by itself at ${until}: no alarm is suppressed by it now; say how it went: service done`,
    );
    return;
  }
  print(
    `${unit}: ${work} begun; its alarms are suppressed until ${until} at the latest (ozone, overcurrent and locked-rotor alarms are not)`,
  );
}

function end({ kept, unit, atMs, nowMs, visit, begun, options }: Telling, open: BegunWork): void {
  const { timezone } = kept.fleet;
  const { work } = open;
  if (atMs < open.atMs) {
    const at = moment(open.atMs, nowMs, timezone);
    throw new CannotWork(
      `${unit}: ${work} was begun at ${at}, after the end that is told; write a later --at or --left`,
    );
  }
  keep(kept, { unit, work, step: "end", atMs, ...(visit && { visit }) }, options);
  print(`${unit}: ${work} ended, and on record as done${begunWords(open, nowMs, timezone)}`);
  tellStillBegun(
    unit,
    begun.filter((one) => one !== open),
  );
}

/** What was begun there is over by it: its end counts as done. */
function done(telling: Telling, work: Work): void {
  const { kept, unit, atMs, visit, begun, options } = telling;
  const open = begun.find((one) => one.work === work && one.atMs <= atMs);
  if (open !== undefined) {
    end(telling, open);
    return;
  }
  keep(kept, { unit, work, step: "done", atMs, ...(visit && { visit }) }, options);
  print(`${unit}: ${work} on record as done`);
  tellStillBegun(unit, begun);
}

/** A unit whose alarms stay suppressed by what nobody has ended is not left unsaid. */
function tellStillBegun(unit: string, begun: readonly BegunWork[]): void {
  for (const { work } of begun)
    print(`${unit}: ${work} is still begun, and suppresses alarms; once it is over: service end`);
}

export interface SwapOptions extends VisitOptions, Pick<ServiceOptions, "by" | "note" | "at" | "state"> {
  readonly serial: string;
}

/** `service swap`: another skid stands at the place of a unit. Its serial number moves; the place's baseline stays. */
export function swap(fleetPath: string, unit: string, options: SwapOptions): Promise<number> {
  return onKeptState(fleetPath, options, (kept) => {
    const nowMs = Date.now();
    const { id, serial: written } = unitIn(kept.fleet, unit);
    const from = serialAt(recordsOf(kept, id), written);
    const to = visible(options.serial.trim());
    if (to === "") throw new CannotWork("--serial: write the serial number of the skid that came");
    if (to === from) throw new CannotWork(`${id}: skid ${visible(to)} stands there already`);
    const visit = visitOf(options, kept.fleet, unitIn(kept.fleet, unit), nowMs);
    const atMs = timeOf(options.at, "--at", kept.fleet, nowMs) ?? visit?.leftMs ?? nowMs;
    const skid = { ...(from !== undefined && { from }), to };
    keep(kept, { unit: id, work: "swap", step: "done", atMs, visit: { ...visit, skid } }, options);
    const instead = from === undefined ? "" : ` in place of ${visible(from)}`;
    print(`${id}: skid ${to} stands there now${instead}; the place keeps its baseline`);
    print(
      `write serial: ${to} at ${id} in the fleet file; if it came clean: service done FLEET ${id} cleaning`,
    );
    const other = kept.fleet.units.find((one) => one.id !== id && one.serial === to);
    if (other !== undefined) print(`by the fleet file ${to} stands at ${other.id}: change that too`);
    if (visit !== undefined) tellVisit(kept, id, atMs, visit);
    return 0;
  });
}

/** `service plan`: a stop that is meant. */
export function plan(fleetPath: string, unit: string, options: PlanOptions): Promise<number> {
  return onKeptState(fleetPath, options, (kept) => {
    const nowMs = Date.now();
    const { timezone } = kept.fleet;
    const atMs = instant(options.from, "--from", timezone, nowMs);
    const untilMs = instant(options.until, "--until", timezone, nowMs);
    if (untilMs <= atMs) throw new CannotWork("--until comes after --from");
    if (untilMs <= nowMs) throw new CannotWork("--until is over already; a plan is for a time to come");
    if (options.why.trim() === "")
      throw new CannotWork('--why: say what the stop is for, such as "pond drained"');
    const stop = { unit, work: "planned stop", step: "begin", atMs, untilMs } as const;
    keep(kept, stop, { ...options, note: options.why });
    const [from, until] = [atMs, untilMs].map((timeMs) => moment(timeMs, nowMs, timezone));
    print(`${unit}: stop planned from ${from} until ${until}, for ${age(untilMs - atMs)}`);
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
  return onKeptState(fleetPath, options, async (kept) => {
    const { fleet, path } = kept;
    const { id } = unitIn(fleet, unit);
    const folder = stateFolder(fleet, path, options.state);
    if (answer === "confirm" && !(await hasBaseline(kept, id, folder))) {
      throw new CannotWork(
        `${visible(id)}: there is no baseline to confirm yet: it is learned from the first steady running; confirm it once check has it as provisional`,
      );
    }
    keep(kept, { unit, work: "baseline", step: answer, atMs: Date.now() }, options);
    print(
      answer === "confirm"
        ? `${unit}: its baseline is confirmed`
        : `${unit}: its baseline is learned anew from the next steady running; the old one holds until then`,
    );
    return 0;
  });
}
