import { setImmediate as others } from "node:timers/promises";
import type { SpanLack } from "../acquire/span.ts";
import type { UnitLog } from "../acquire/unit-log.ts";
import { holdFor } from "../condition/condition.ts";
import { centerOf, runningCurrentA } from "../condition/operating.ts";
import { stoppedFraction } from "../condition/operating-state.ts";
import type { FoulingTrend } from "../detect/fouling-trend.ts";
import { gasDriftSeen } from "../detect/gas-drift-seen.ts";
import type { DriftSettings } from "../detect/gas-pressure-drift.ts";
import { npshHereM } from "../detect/npsh-here.ts";
import { type UnitState, unitIntervalMs } from "../engine.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import { channelIndex } from "../terms/channels.ts";
import { visible } from "../terms/text.ts";
import type { RunningView, UnitHistory } from "./fleet-view.ts";
import { drawLevels, type PastSources, pastLevels, summedSinceMs } from "./past-levels.ts";
import { type Points, pointMs, refined, shownPoints, startPoints, takeReadings } from "./past-points.ts";
import { countLevels, type RunCount, startRunCount } from "./past-running.ts";

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const water = channelIndex.water_temperature;

/** What a unit's past is drawn from. */
export interface PastOf extends PastSources {
  readonly state: UnitState;
  readonly log: Pick<UnitLog, "readSpan" | "firstMs">;
  readonly events: UnitHistory["events"];
  readonly services: readonly ServiceRecord[];
  /** What comes later is not known yet: in a replay. */
  readonly playedMs?: number;
}

/** The time that is wanted, in how many points. */
export interface PastWanted {
  readonly fromMs: number;
  readonly toMs: number;
  readonly points: number;
}

/** A unit's past by what is summed up: at once. */
export function summedPast(of: PastOf, wanted: PastWanted): UnitHistory {
  const { points, running } = summedUp(of, wanted);
  const each = pointMs(points);
  const coarsestMs = points.stepMs.reduce((most, step) => Math.max(most, step), 0);
  const isOlder = (of.log.firstMs() ?? Number.POSITIVE_INFINITY) < (summedSinceMs(of) ?? wanted.toMs);
  const fromLogs = of.db === undefined && isOlder && wanted.fromMs < (summedSinceMs(of) ?? wanted.toMs);
  return { ...pastView(of, points, running), refinable: coarsestMs > each || fromLogs };
}

function summedUp(of: PastOf, { fromMs, toMs, points: count }: PastWanted) {
  const lastMs = lastKnownMs(of);
  const levels = pastLevels(of, fromMs, Math.min(toMs, Math.max(fromMs, lastMs + 1)));
  const points = startPoints(fromMs, toMs, count);
  drawLevels(points, levels, lastMs + 1);
  const counted = countOf(of, fromMs, toMs);
  if (counted !== null) countLevels(counted, levels, current, lastMs + 1);
  return { points, running: counted?.view() ?? null };
}

/**
 * A unit's past by its logs as far as they are still there, by what is summed up elsewhere. `isOver` is asked between
 * batches; undefined where it answers true.
 */
export async function readPast(
  of: PastOf,
  wanted: PastWanted,
  isOver: () => boolean,
): Promise<UnitHistory | undefined> {
  const { fromMs, toMs } = wanted;
  const lacks: SpanLack[] = [];
  const fine = startPoints(fromMs, toMs, wanted.points);
  const counted = countOf(of, fromMs, toMs);
  let firstMs = Number.POSITIVE_INFINITY;
  let readMs = Number.NEGATIVE_INFINITY;
  const batches = of.log.readSpan(fromMs, Math.min(toMs, lastKnownMs(of) + 1), {
    late: (batch) => takeReadings(fine, batch),
    lacking: (lack) => lacks.push(lack),
  });
  const count = counted && countReadings(counted, holdMs(of));
  for await (const batch of batches) {
    if (batch.rows > 0) {
      firstMs = Math.min(firstMs, batch.timeMs[0]);
      readMs = batch.timeMs[batch.rows - 1];
    }
    takeReadings(fine, batch);
    count?.(batch);
    await others();
    if (isOver()) return undefined;
  }
  const { points, running } = summedUp(of, wanted);
  if (readMs >= lastKnownMs(of) - 1) readMs = toMs;
  const each = pointMs(fine);
  const heldMs = holdMs(of);
  const isRead = (point: number): boolean => {
    const beganMs = fromMs + point * each;
    const endedMs = beganMs + each;
    return (
      endedMs > firstMs - heldMs &&
      beganMs <= readMs + heldMs &&
      !lacks.some((lack) => lack.fromMs < endedMs && lack.toMs >= beganMs)
    );
  };
  const isWhole = lacks.length === 0 && counted !== null && firstMs <= fromMs + heldMs;
  return {
    ...pastView(of, refined(points, fine, isRead), isWhole ? counted.view() : running),
    lacking: lacks.map((lack) => ({ ...lack, file: visible(lack.file.replace(/^.*[\\/]/, "")) })),
  };
}

function holdMs({ state }: PastOf): number {
  return holdFor(unitIntervalMs(state));
}

/** Time of the newest reading that is known. */
function lastKnownMs({ state, playedMs = Number.POSITIVE_INFINITY }: PastOf): number {
  return Math.min(playedMs, state.condition.lastTimeMs ?? Number.NEGATIVE_INFINITY);
}

function countOf(of: PastOf, fromMs: number, toMs: number): RunCount | null {
  const { unit, condition } = of.state;
  if (!condition.seen[current]) return null;
  const runningA = runningCurrentA(unit, centerOf(condition.baseline, current));
  return startRunCount(fromMs, toMs, {
    runningA,
    stoppedA: stoppedFraction * runningA,
    heldMs: holdMs(of),
  });
}

/** Takes a reading to hold until the next, at most for `heldMs`. */
function countReadings(count: RunCount, heldMs: number): (batch: ReadingBatch) => void {
  let lastMs = Number.NaN;
  let lastA = Number.NaN;
  return ({ rows, timeMs, columns }) => {
    const amps = columns[current];
    if (amps === undefined) return;
    for (let row = 0; row < rows; row++) {
      if (!Number.isFinite(amps[row])) continue;
      if (!Number.isNaN(lastA)) count.take(lastMs, Math.min(timeMs[row], lastMs + heldMs), lastA, lastA);
      lastMs = timeMs[row];
      lastA = amps[row];
    }
  };
}

function pastView(of: PastOf, points: Points, running: RunningView | null): UnitHistory {
  const { state, log } = of;
  const { fromMs, toMs } = points;
  const known = [summedSinceMs(of), log.firstMs()].filter((ms) => ms !== null);
  return {
    unit: of.unit,
    ...shownPoints(points, state.signals),
    events: eventsWithin(of.events, fromMs, Math.min(toMs, of.playedMs ?? toMs)),
    services: of.services.filter(
      ({ unit, atMs }) => unit === of.unit && atMs <= Math.min(toMs, of.playedMs ?? toMs),
    ),
    heldMs: holdMs(of),
    refinable: false,
    lacking: [],
    knownFromMs: known.length === 0 ? null : Math.min(...known),
    running,
    npsh: npshOf(of.state, points),
    drift: driftOf(of.state),
  };
}

/** The events of a time, and before them the last of each alarm that had begun and not ended. */
export function eventsWithin(
  events: UnitHistory["events"],
  fromMs: number,
  toMs: number,
): UnitHistory["events"] {
  const stood = new Map<string, UnitHistory["events"][number]>();
  for (const event of events) {
    if (event.timeMs >= fromMs) break;
    if (event.event === "raised" || event.event === "unsuppressed") stood.set(event.alarm, event);
    else if (event.event === "cleared" || event.event === "suppressed") stood.delete(event.alarm);
  }
  const within = events.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs);
  return [...stood.values(), ...within].map(({ timeMs, alarm, event }) => ({ timeMs, alarm, event }));
}

function npshOf({ unit }: UnitState, { low, high, points }: Points): UnitHistory["npsh"] {
  const deepest = low[suction];
  const shallowest = high[suction];
  if (deepest === undefined || shallowest === undefined || unit.elevationM === undefined) return null;
  const at = (column: Float64Array, point: number, waterC: number | undefined): number =>
    npshHereM(unit, column[point], waterC ?? Number.NaN);
  return {
    low: Array.from({ length: points }, (_, k) => at(deepest, k, high[water]?.[k])),
    high: Array.from({ length: points }, (_, k) => at(shallowest, k, low[water]?.[k])),
    requiredM: unit.pump.npshRequiredM ?? null,
  };
}

function driftOf({ unit, condition, rules }: UnitState): UnitHistory["drift"] {
  const rule = rules.find((one) => one.rule.alarm === "gas-pressure-drift");
  if (rule === undefined) return null;
  const { memory, settings } = rule;
  return gasDriftSeen(unit, condition.firstBaseline, memory as FoulingTrend, settings as DriftSettings);
}
