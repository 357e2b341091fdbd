import { intervalIsFixed } from "../condition/interval.ts";
import {
  type Input,
  isOnRecord,
  step,
  type UnitState,
  unitOverdueFromMs,
  unitStaleAfterMs,
  unitStaleFromMs,
  unitStaleUntilMs,
} from "../engine.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { type LateTimes, type ReadingBatch, rowsOf } from "../terms/batch.ts";
import type { Finding } from "../terms/events.ts";

/** A silence within a unit's readings: from when it was stale to the next reading. */
interface Silence {
  readonly staleMs: number;
  readonly endMs: number;
}

/** Feeds one unit's readings and services to its engine in the order of their times. */
export interface Player {
  readonly state: UnitState;
  /** Services of this unit that are still to come, oldest first. */
  services: ServiceRecord[];
  /** Up to when services have been played, ms. */
  playedMs: number;
  /** Silences met so far; kept only where a clock is assumed to run through them. */
  readonly silences: Silence[];
}

/** A player of a unit as it stands: services up to its last reading have been taken in. */
export function startPlayer(state: UnitState, services: readonly ServiceRecord[]): Player {
  const doneMs = state.condition.lastTimeMs ?? Number.NEGATIVE_INFINITY;
  const mine = services
    .filter(({ unit, atMs }) => unit === state.unit.id && atMs > doneMs)
    .sort((a, b) => a.atMs - b.atMs);
  return { state, services: mine, playedMs: doneMs, silences: [] };
}

/** A player that goes on: `services` are those still to be played, whenever they were, those up to `playedMs` have been. */
export function goOnPlaying(state: UnitState, services: readonly ServiceRecord[], playedMs: number): Player {
  return { state, services: [...services], playedMs, silences: [] };
}

/**
 * Plays one batch. With `clockRuns` a clock is taken to have passed every silence within the readings,
 * so that `readings-stale` comes and goes: whether the fleet's time really went on is for the caller to
 * decide from `silences`. `late` are those that came late with it.
 */
export function play(player: Player, batch: ReadingBatch, clockRuns: boolean, late?: LateTimes): Finding[] {
  const findings: Finding[] = [];
  const { state } = player;
  let lateFrom = 0;
  /** Late readings that came before one of `beforeMs`. */
  const playLate = (beforeMs: number): void => {
    if (late === undefined) return;
    const { timeMs, afterMs } = late;
    let to = lateFrom;
    while (to < timeMs.length && !(afterMs[to] >= beforeMs)) to++;
    if (to === lateFrom) return;
    const rows = { timeMs: timeMs.subarray(lateFrom, to), afterMs: afterMs.subarray(lateFrom, to) };
    take(state, { kind: "late", rows }, findings);
    lateFrom = to;
  };
  for (let from = 0; from < batch.rows; ) {
    const endMs = batch.timeMs[from];
    playLate(endMs);
    const silence = passTime(player, endMs, clockRuns, findings);
    if (silence !== null) player.silences.push(silence);
    playServices(player, endMs, findings);
    const lateMs = late?.afterMs[lateFrom] ?? Number.POSITIVE_INFINITY;
    const to = nextStop(player, batch, from, clockRuns, lateMs);
    take(state, { kind: "readings", batch: rowsOf(batch, from, to) }, findings);
    from = to;
  }
  playLate(Number.POSITIVE_INFINITY);
  return findings;
}

/** Services up to and including `timeMs`. */
function playServices(player: Player, timeMs: number, findings: Finding[]): void {
  player.playedMs = Math.max(player.playedMs, timeMs);
  while (player.services.length > 0 && player.services[0].atMs <= timeMs) {
    const record = player.services.shift() as ServiceRecord;
    take(player.state, { kind: "service", record }, findings);
  }
}

/** Services and the clock up to `timeMs`, in the order of their times. */
export function playClock(player: Player, timeMs: number, findings: Finding[]): void {
  passTime(player, timeMs + 1, true, findings);
  playServices(player, timeMs, findings);
  // The logger's clock is held against this one at every look.
  take(player.state, { kind: "clock", timeMs }, findings);
}

/**
 * Lets time pass up to `endMs`, not included: what a clock must tell is told in its turn with the services. A service
 * falls due by any time that passes, also that of readings; silence only where a clock runs. Answers the silence.
 */
function passTime(player: Player, endMs: number, clockRuns: boolean, findings: Finding[]): Silence | null {
  const { state } = player;
  const silentFromMs = clockRuns ? unitStaleFromMs(state) : Number.POSITIVE_INFINITY;
  for (;;) {
    const staleMs = clockRuns ? nextOfSilence(state) : Number.POSITIVE_INFINITY;
    const overdueMs = unitOverdueFromMs(state);
    const timeMs = Math.min(staleMs, overdueMs);
    if (timeMs >= endMs) break;
    playServices(player, timeMs, findings);
    take(state, { kind: timeMs === overdueMs ? "due" : "clock", timeMs }, findings);
  }
  return silentFromMs < endMs ? { staleMs: silentFromMs, endMs } : null;
}

/** When a silence is told, or is asked about no more, ms. */
function nextOfSilence(state: UnitState): number {
  return state.stale.phase === "on" ? unitStaleUntilMs(state) : unitStaleFromMs(state);
}

function take(state: UnitState, input: Input, findings: Finding[]): void {
  for (const finding of step(state, input)) findings.push(finding);
}

/** The row before which something other than a reading is due: a service, the clock in a silence, or readings that came late after the one of `lateMs`. */
function nextStop(
  { state, services }: Player,
  batch: ReadingBatch,
  from: number,
  clockRuns: boolean,
  lateMs: number,
): number {
  const serviceMs = services[0]?.atMs ?? Number.POSITIVE_INFINITY;
  const overdueMs = unitOverdueFromMs(state);
  // Until the sample interval is fixed it may change with every reading, and the limit with it; what is due, with a start.
  if (
    state.upkeep.firstMs === null ||
    isOnRecord(state, batch.timeMs[from]) ||
    (clockRuns && !intervalIsFixed(state.condition.interval))
  )
    return from + 1;
  const staleMs = clockRuns ? unitStaleAfterMs(state) : Number.POSITIVE_INFINITY;
  let row = from + 1;
  for (; row < batch.rows; row++) {
    const t = batch.timeMs[row];
    if (t >= serviceMs || t > overdueMs || t > lateMs || t - batch.timeMs[row - 1] > staleMs) break;
  }
  return row;
}
