import type { UnitLogState } from "../acquire/unit-log.ts";
import { decodeUnit, encodeUnit } from "../collector/checkpoint.ts";
import { goOnPlaying, type Player, play, playClock, startPlayer } from "../collector/play.ts";
import { type Recent, remember, startRecent } from "../collector/recent.ts";
import { startUnit, type UnitState, unitStaleFromMs } from "../engine.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import { type LateTimes, type ReadingBatch, rowsOf } from "../terms/batch.ts";
import { minute } from "../terms/time.ts";
import { openTape, type UnitTape } from "./unit-tape.ts";

export interface PlaybackOptions {
  readonly unit: Unit;
  readonly fleet: Fleet;
  readonly files: readonly string[];
  readonly services: readonly ServiceRecord[];
  /** When its silences were told as `readings-stale`, ms; in others the whole fleet was silent. */
  readonly staleAtMs: ReadonlySet<number>;
  /** The end of the recording. */
  readonly toMs: number;
  /** At most so many minutes of readings are kept for charts. */
  readonly mostChartMinutes: number;
  /** At most so many points are kept to go back to; at least 2. */
  readonly mostCheckpoints: number;
}

/** One unit of a recording, played to any time. */
export interface UnitPlayback {
  state(): UnitState;
  readonly recent: Recent;
  log(): UnitTape["past"];
  /** Up to which time it has been played; -∞ before the first. */
  atMs(): number;
  /** Time of its next reading; +∞ at the end. */
  nextMs(): number;
  /**
   * Plays it to `timeMs`, that time included: onwards from where it is, or from the nearest checkpoint before.
   * `pause` is asked between batches and may give others a turn; where it answers true the unit is left where
   * it is.
   */
  goTo(timeMs: number, pause: () => Promise<boolean> | boolean): Promise<void>;
}

/** Where a unit stood when all rows of a batch had been played. */
interface Checkpoint {
  readonly atMs: number;
  readonly engine: string;
  readonly services: readonly ServiceRecord[];
  readonly log: UnitLogState;
}

/** So few rows are played again in the time of a key's echo (tried: 5 ms). */
const leastRowsBetween = 8192;

const nothing: ReadingBatch = { rows: 0, timeMs: new Float64Array(0), columns: [] };

/** Opens a unit's recording at its beginning, its first readings read and not yet played. */
export async function openPlayback(options: PlaybackOptions): Promise<UnitPlayback> {
  const { unit, fleet, files, services, staleAtMs, toMs, mostChartMinutes, mostCheckpoints } = options;
  let player: Player = startPlayer(startUnit(unit, fleet), services);
  let tape = openTape(unit, fleet, files, toMs);
  await tape.load();
  const minutes = tape.batch === null ? 1 : Math.ceil((toMs - tape.nextMs()) / minute) + 2;
  const recent = startRecent(signalsOf(unit), Math.min(minutes, mostChartMinutes));
  let atMs = Number.NEGATIVE_INFINITY;
  let checkpoints: Checkpoint[] = [];
  let rowsBetween = leastRowsBetween;
  let rowsSince = 0;
  /** Late readings that came before or among the rows of `tape.batch`, and are not played yet. */
  let late: LateTimes | undefined;
  takeLate();

  function takeLate(): void {
    const more = tape.takeLate();
    if (more) remember(recent, more);
    late = more;
  }

  /** Those that came after the reading of `timeMs` at the latest. */
  function lateUpTo(timeMs: number): LateTimes | undefined {
    if (late === undefined) return undefined;
    const { afterMs } = late;
    let to = 0;
    while (to < afterMs.length && !(afterMs[to] > timeMs)) to++;
    const due = { timeMs: late.timeMs.subarray(0, to), afterMs: afterMs.subarray(0, to) };
    late = { timeMs: late.timeMs.subarray(to), afterMs: afterMs.subarray(to) };
    return due;
  }

  /** Every row up to `timeMs` that is read. */
  function playRead(timeMs: number): void {
    const { batch, at } = tape;
    if (batch === null) return;
    let to = at;
    while (to < batch.rows && batch.timeMs[to] <= timeMs) to++;
    if (to === at) return;
    const rows = rowsOf(batch, at, to);
    play(player, rows, true, lateUpTo(batch.timeMs[to - 1]));
    remember(recent, rows);
    rowsSince += rows.rows;
    atMs = batch.timeMs[to - 1];
    tape.at = to;
  }

  async function readOn(): Promise<void> {
    const last = checkpoints.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
    const due: Checkpoint | undefined =
      rowsSince < rowsBetween || atMs <= last
        ? undefined
        : { atMs, engine: encodeUnit(player.state), services: [...player.services], log: tape.save() };
    await tape.load();
    takeLate();
    if (tape.batch === null) play(player, nothing, true, lateUpTo(Number.POSITIVE_INFINITY));
    // What lies behind the last batch comes of the end of the recording, and cannot be gone on from.
    if (due === undefined || tape.batch === null) return;
    rowsSince = 0;
    checkpoints.push(due);
    if (checkpoints.length < mostCheckpoints) return;
    checkpoints = checkpoints.filter((_, place) => place % 2 === 1);
    rowsBetween *= 2;
  }

  /** The clock and the services up to `timeMs`, which lies before the next reading. */
  function playSilence(timeMs: number): void {
    const staleMs = unitStaleFromMs(player.state);
    const stays = staleMs <= timeMs && !staleAtMs.has(staleMs);
    playClock(player, stays ? staleMs - 1 : timeMs, []);
    atMs = timeMs;
  }

  async function goBack(timeMs: number): Promise<void> {
    await tape.close();
    const from = checkpoints.findLast((checkpoint) => checkpoint.atMs <= timeMs);
    player =
      from === undefined
        ? startPlayer(startUnit(unit, fleet), services)
        : goOnPlaying(decodeUnit(unit, fleet, from.engine).state, from.services, from.atMs);
    tape = openTape(unit, fleet, files, toMs, from?.log);
    await tape.load();
    takeLate();
    atMs = from?.atMs ?? Number.NEGATIVE_INFINITY;
    rowsSince = 0;
    // What comes later is not known yet.
    const { minuteOf } = recent;
    for (let slot = 0; slot < minuteOf.length; slot++) {
      if ((minuteOf[slot] + 1) * minute > atMs) minuteOf[slot] = -1;
    }
  }

  return {
    state: () => player.state,
    recent,
    log: () => tape.past,
    atMs: () => atMs,
    nextMs: () => tape.nextMs(),
    async goTo(timeMs, pause) {
      if (timeMs < atMs) await goBack(timeMs);
      for (;;) {
        playRead(timeMs);
        const { batch, at } = tape;
        if (batch === null || at < batch.rows) break;
        await readOn();
        if (tape.nextMs() <= timeMs && (await pause())) return;
      }
      playSilence(timeMs);
    },
  };
}
