import { findLogs } from "../acquire/find.ts";
import { type LogStatus, openUnitLog, type UnitLog } from "../acquire/unit-log.ts";
import { startUnit } from "../engine.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import type { Finding } from "../terms/events.ts";
import { iso } from "../terms/time.ts";
import { type FleetTime, hasReading, markReadings, startFleetTime } from "./fleet-time.ts";
import { type Player, play, playClock, startPlayer } from "./play.ts";

/** One unit after its logs were read through once. */
export interface UnitRead {
  readonly player: Player;
  readonly findings: readonly Finding[];
  readonly status: LogStatus;
  /** Why the unit cannot be read; null where it can. */
  readonly problem: string | null;
}

export interface FleetRead {
  readonly units: readonly UnitRead[];
  /** Newest reading time of the fleet, ms; -Infinity where there is none. */
  readonly newestMs: number;
  /** Why the log folder cannot be read. */
  readonly folderProblem: string | undefined;
}

export interface ReadOnceOptions {
  /** Rows up to and including this time are read. Default: all. */
  readonly toMs?: number;
  /** Where the clock stands at the end; default `toMs`, else the newest reading of the fleet. */
  readonly clockMs?: number;
  readonly services: readonly ServiceRecord[];
}

/** Reads a fleet's logs through once and plays them through the engines, in log time. */
export async function readOnce(fleet: Fleet, options: ReadOnceOptions): Promise<FleetRead> {
  const toMs = options.toMs ?? Number.POSITIVE_INFINITY;
  const found = await findLogs(fleet);
  const fleetTime = startFleetTime();
  const reads: { player: Player; log: UnitLog; findings: Finding[] }[] = [];
  for (const unit of fleet.units) {
    const log = openUnitLog(unit, fleet, { latest: { timeMs: () => toMs } });
    log.setFiles(found.files.get(unit.id) ?? []);
    const player = startPlayer(startUnit(unit, fleet), options.services);
    const findings: Finding[] = [];
    for await (const batch of batches(log)) {
      markReadings(fleetTime, batch);
      findings.push(...play(player, batch, true));
    }
    reads.push({ player, log, findings });
  }
  const endMs = options.clockMs ?? options.toMs ?? fleetTime.newestMs;
  const units = reads.map(({ player, log, findings }): UnitRead => {
    playClock(player, endMs, findings);
    const status = log.status();
    return {
      player,
      findings: withoutFleetSilences(player, findings, fleetTime),
      status,
      problem:
        found.folderProblem ??
        found.problems.get(player.state.unit.id) ??
        nothingRead(player, status, toMs) ??
        status.problem,
    };
  });
  return { units, newestMs: fleetTime.newestMs, folderProblem: found.folderProblem };
}

/** A unit whose logs are in order and hold no reading is as little known as one without logs. */
function nothingRead({ state }: Player, { readable, rejected }: LogStatus, toMs: number): string | null {
  if (state.condition.lastTimeMs !== null || !readable || rejected > 0) return null;
  return `no reading in its log${Number.isFinite(toMs) ? ` up to ${iso(toMs)}` : " yet"}`;
}

/** A unit's batches, with what is held for late rows at the end. */
async function* batches(log: UnitLog): AsyncGenerator<ReadingBatch> {
  yield* log.read();
  const held = log.flush();
  if (held) yield held;
}

/**
 * Leaves out the staleness of silences in which the whole fleet was silent: its time, the newest reading
 * of any unit, did not go on.
 */
function withoutFleetSilences(player: Player, findings: readonly Finding[], fleetTime: FleetTime): Finding[] {
  const silent = player.silences.filter(({ staleMs, endMs }) => !hasReading(fleetTime, staleMs, endMs));
  if (silent.length === 0) return [...findings];
  return findings.filter(
    ({ alarm, timeMs }) =>
      alarm !== "readings-stale" ||
      !silent.some(({ staleMs, endMs }) => timeMs >= staleMs && timeMs <= endMs),
  );
}
