import { intervalIsFixed } from "../condition/interval.ts";
import { type Input, step, type UnitState, unitStaleAfterMs, unitStaleFromMs } from "../engine.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
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
  readonly services: ServiceRecord[];
  /** Silences met so far; kept only where a clock is assumed to run through them. */
  readonly silences: Silence[];
}

/** A player of a unit as it stands: services up to its last reading have been taken in. */
export function startPlayer(state: UnitState, services: readonly ServiceRecord[]): Player {
  const doneMs = state.condition.lastTimeMs ?? Number.NEGATIVE_INFINITY;
  const mine = services
    .filter(({ unit, atMs }) => unit === state.unit.id && atMs > doneMs)
    .sort((a, b) => a.atMs - b.atMs);
  return { state, services: mine, silences: [] };
}

/**
 * Plays one batch. With `clockRuns` a clock is taken to have passed every silence within the readings,
 * so that `readings-stale` comes and goes: whether the fleet's time really went on is for the caller to
 * decide from `silences`.
 */
export function play(player: Player, batch: ReadingBatch, clockRuns: boolean): Finding[] {
  const findings: Finding[] = [];
  const { state } = player;
  for (let from = 0; from < batch.rows; ) {
    const endMs = batch.timeMs[from];
    const silence = clockRuns ? passSilence(player, endMs, findings) : null;
    if (silence !== null) player.silences.push(silence);
    playServices(player, endMs, findings);
    const to = nextStop(player, batch, from, clockRuns);
    take(state, { kind: "readings", batch: rowsOf(batch, from, to) }, findings);
    from = to;
  }
  return findings;
}

/** Services up to and including `timeMs`. */
function playServices(player: Player, timeMs: number, findings: Finding[]): void {
  while (player.services.length > 0 && player.services[0].atMs <= timeMs) {
    const record = player.services.shift() as ServiceRecord;
    take(player.state, { kind: "service", record }, findings);
  }
}

/** Services and the clock up to `timeMs`, in the order of their times. */
export function playClock(player: Player, timeMs: number, findings: Finding[]): void {
  passSilence(player, timeMs + 1, findings);
  playServices(player, timeMs, findings);
}

/** Where the readings went stale before `endMs`, takes the services until then and tells it. */
function passSilence(player: Player, endMs: number, findings: Finding[]): Silence | null {
  const { state } = player;
  const staleMs = unitStaleFromMs(state);
  if (staleMs >= endMs) return null;
  playServices(player, staleMs, findings);
  take(state, { kind: "clock", timeMs: staleMs }, findings);
  return { staleMs, endMs };
}

function take(state: UnitState, input: Input, findings: Finding[]): void {
  for (const finding of step(state, input)) findings.push(finding);
}

/** The row before which something other than a reading is due: a service, or the clock in a silence. */
function nextStop(
  { state, services }: Player,
  batch: ReadingBatch,
  from: number,
  clockRuns: boolean,
): number {
  const serviceMs = services[0]?.atMs ?? Number.POSITIVE_INFINITY;
  // Until the sample interval is fixed it may change with every reading, and the limit with it.
  if (clockRuns && !intervalIsFixed(state.condition.interval)) return from + 1;
  const staleMs = clockRuns ? unitStaleAfterMs(state) : Number.POSITIVE_INFINITY;
  let row = from + 1;
  for (; row < batch.rows; row++) {
    const t = batch.timeMs[row];
    if (t >= serviceMs || t - batch.timeMs[row - 1] > staleMs) break;
  }
  return row;
}

function rowsOf(batch: ReadingBatch, from: number, to: number): ReadingBatch {
  if (from === 0 && to === batch.rows) return batch;
  return {
    rows: to - from,
    timeMs: batch.timeMs.subarray(from, to),
    columns: batch.columns.map((column) => column?.subarray(from, to)),
  };
}
