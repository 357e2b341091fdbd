import type { FleetView } from "../collector/fleet-view.ts";
import type { SendLine } from "../fleet/notify.ts";
import type { Delivery } from "../store/deliveries.ts";
import { comparePriority } from "../terms/alarms.ts";
import { hour } from "../terms/time.ts";
import { bundled } from "./bundle.ts";
import { isWithin, mustWait, waysOf } from "./hours.ts";
import { covering, messageOf } from "./make.ts";
import type { Memory, Noted } from "./memory.ts";
import { type Now, tellings } from "./now.ts";
import type { Plan } from "./plan.ts";
import { decideReturns } from "./returns.ts";
import { type Stand, type Standing, standOf } from "./standing.ts";
import { chatterIsTold, isPressing, waitFor } from "./waiting.ts";

export interface Decision extends Noted {
  /** New messages, and what needs none. */
  readonly made: readonly Delivery[];
  /** Waiting ones whose alarms stand: they may be sent. */
  readonly due: readonly Delivery[];
  /** Waiting ones that came to nothing in time. */
  readonly withdrawn: readonly Delivery[];
}

/**
 * What people are to be told, from what stands now and what they were told: the same whether the process has
 * run all along or begins now. An alarm that came and went between two looks tells nobody. Pure.
 */
export function decide(memory: Memory, view: FleetView, plan: Plan, nowMs: number): Decision {
  const stand = standOf(view);
  const isReading = view.catchingUp !== undefined;
  const seenMs = new Map(
    stand.unanswered.map(({ id, unit, raisedMs }) => {
      const seen = memory.seenMs.get(id) ?? nowMs;
      // What a process finds once it has read everything has been there since it was raised.
      const isFound = !isReading && !memory.units.has(unit);
      // A clock that was set back makes nobody wait.
      return [id, Math.min(nowMs, isFound ? Math.min(seen, raisedMs) : seen)] as const;
    }),
  );
  const made: Delivery[] = [];
  const now: Now = { memory, plan, nowMs, seenMs, made, mute: stand.mute };
  for (const line of plan.send) {
    const wanted = stand.unanswered.filter(
      ({ priority, site }) =>
        comparePriority(priority, line.atLeast) <= 0 &&
        (line.sites === undefined || (site !== null && line.sites.includes(site))) &&
        !mustWait(priority, plan.quietHours, plan.localOf(nowMs)),
    );
    tellFirst(now, line, wanted);
    escalate(now, line, wanted);
  }
  const waiting = [...memory.deliveries.values()].filter(({ outcome }) => outcome === "waiting");
  const ids = new Set(stand.unanswered.flatMap(({ id, sameAs = id }) => [id, sameAs]));
  const standsIn = (delivery: Delivery) => stands(delivery, ids, stand, nowMs);
  const returns = decideReturns(memory, stand, plan, nowMs);
  return {
    made: [...made, ...returns.made],
    due: waiting.filter((delivery) => standsIn(delivery) === true),
    withdrawn: waiting
      .filter((delivery) => standsIn(delivery) === false)
      .map((delivery) => ({ ...delivery, outcome: "withdrawn", atMs: nowMs })),
    active: [...stand.units.values()].flatMap(({ ids }) => [...ids]),
    seenMs,
    goneMs: returns.goneMs,
    closed: returns.closed,
    units: isReading ? [] : [...stand.units.keys()],
  };
}

/** Whether a waiting message still has something to tell; undefined where that cannot be said yet. */
function stands(
  { kind, madeMs, alarms }: Delivery,
  unanswered: ReadonlySet<string>,
  { units }: Stand,
  nowMs: number,
): boolean | undefined {
  if (kind === "returned") return nowMs - madeMs < hour;
  if (alarms.some(({ id }) => unanswered.has(id))) return true;
  return alarms.every(({ unit }) => units.has(unit)) ? false : undefined;
}

function tellFirst(now: Now, line: SendLine, wanted: readonly Standing[]): void {
  const { plan, nowMs, seenMs, made } = now;
  const local = plan.localOf(nowMs);
  if (line.hours !== undefined && !isWithin(line.hours, local)) return;
  const due: { alarm: Standing; ways: readonly string[] }[] = [];
  for (const alarm of wanted) {
    const told = tellings(now, alarm);
    if (told.some((delivery) => delivery.line === line.name)) continue;
    const to = waysOf(line.to, plan, alarm.priority, local);
    if (to.length === 0) continue;
    const ways = to.filter((way) => !told.some((delivery) => delivery.way === way));
    if (ways.length === 0 || chatterIsTold(now, line, alarm)) made.push(covering(alarm, line, 0, nowMs));
    else due.push({ alarm, ways });
  }
  for (const alike of Map.groupBy(due, ({ ways }) => ways.join("\n")).values()) {
    const alarms = alike.map(({ alarm }) => alarm);
    for (const bundle of bundled(alarms, plan.groupWithinMs)) {
      const seen = Math.min(...bundle.alarms.map(({ id }) => seenMs.get(id) ?? nowMs));
      const waited = nowMs - seen >= waitFor(now, bundle);
      if (!waited && !isPressing(now, line, bundle)) continue;
      for (const way of alike[0]?.ways ?? []) made.push(messageOf({ bundle, line, step: 0, way, now }));
    }
  }
}

/** Tells the next where those before did not answer in time, or could not be reached at all. */
function escalate(now: Now, line: SendLine, wanted: readonly Standing[]): void {
  const { plan, nowMs, made } = now;
  if (line.escalateTo.length === 0) return;
  const due: { alarm: Standing; step: number; ways: readonly string[]; told: string }[] = [];
  for (const alarm of wanted) {
    const told = tellings(now, alarm).filter((delivery) => delivery.line === line.name);
    const newest = told.reduce((most, { step }) => Math.max(most, step), -1);
    const last = told.filter(({ step }) => step === newest);
    if (newest < 0) continue;
    const madeMs = Math.min(...last.map((delivery) => delivery.madeMs));
    const inVain = last.every(({ outcome }) => outcome === "refused");
    // One told by what is the future now: the clock was put back, and who is next is rather told early than hours late.
    if (!inVain && Math.abs(nowMs - madeMs) < line.escalateAfterMs) continue;
    const next = line.escalateTo
      .map((names, place) => ({
        step: place + 1,
        ways: waysOf(names, plan, alarm.priority, plan.localOf(nowMs)),
      }))
      .find(({ step, ways }) => step > newest && ways.length > 0);
    if (next !== undefined) due.push({ alarm, ...next, told: last[0]?.message ?? "" });
  }
  const alike = Map.groupBy(due, ({ step, ways, told }) => [step, told, ...ways].join("\n"));
  for (const together of alike.values()) {
    const [first] = together;
    if (first === undefined) continue;
    const { step, ways } = first;
    const alarms = together.map(({ alarm }) => alarm);
    for (const bundle of bundled(alarms, plan.groupWithinMs)) {
      for (const way of ways) made.push(messageOf({ bundle, line, step, way, now }));
    }
  }
}
