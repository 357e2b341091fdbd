import type { FoundLogs } from "../acquire/find.ts";
import type { LogStatus } from "../acquire/log-status.ts";
import { readToEnd } from "../acquire/read-to-end.ts";
import { openUnitLog, type UnitLog } from "../acquire/unit-log.ts";
import { endShelving } from "../assess/response.ts";
import { startUnit } from "../engine.ts";
import { foundAt } from "../fleet/found.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import type { SavedUnit } from "../store/checkpoints.ts";
import type { StoredService } from "../store/services.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import { iso } from "../terms/time.ts";
import type { StoredWord } from "../terms/words.ts";
import { type FleetTime, hasReading, markReadings, startFleetTime } from "./fleet-time.ts";
import type { UnitView } from "./fleet-view.ts";
import { logView } from "./log-view.ts";
import { type Player, play, playClock, startPlayer } from "./play.ts";
import { respond } from "./respond.ts";
import { type Restored, restore } from "./restore.ts";
import { type UnitUpkeep, upkeepOf } from "./upkeep.ts";
import { viewUnit } from "./view.ts";

/** What every thread needs to read units of a fleet through once. Plain data. */
export interface ShareTask {
  readonly fleet: Fleet;
  readonly found: FoundLogs;
  readonly services: readonly ServiceRecord[];
  /** Rows up to and including this time are read; +∞: all. */
  readonly toMs: number;
  /** What is kept of units, by their id; one that is kept whole is read on from there. */
  readonly kept?: ReadonlyMap<string, KeptUnit>;
}

/** What is kept of a unit: its checkpoint, unless it is to be read from its beginning, and what people said since. */
export interface KeptUnit {
  readonly saved: SavedUnit | null;
  readonly services: readonly StoredService[];
  readonly words: readonly StoredWord[];
}

/** One unit after its logs were read through once. Plain data. */
export interface UnitRead {
  /** Its place in the fleet file. */
  readonly place: number;
  readonly id: string;
  readonly findings: readonly Finding[];
  /** Its logs were read again from their beginning: findings up to this time were told before, ms. */
  readonly toldMs?: number;
  readonly view: UnitView;
  readonly upkeep: UnitUpkeep;
}

/** The units that one thread reads. */
export interface Share {
  readonly fleetTime: FleetTime;
  readonly players: readonly Player[];
  /** Bytes of the logs read so far, as they lie on the disk. */
  bytesRead(): number;
  /** Reads one unit's logs through and plays them through its engine; `place` is that in `fleet.units`. */
  read(place: number): Promise<void>;
  /** Lets the clock pass to `endMs` at each unit read; `fleetTime` is that of the whole fleet. */
  finish(endMs: number, fleetTime: FleetTime): UnitRead[];
}

export function startShare({ fleet, found, services, toMs, kept }: ShareTask): Share {
  const fleetTime = startFleetTime();
  const players: Player[] = [];
  let reading: UnitLog | undefined;
  const reads: {
    place: number;
    player: Player;
    log: UnitLog;
    findings: Finding[];
    restored: Restored | undefined;
  }[] = [];
  return {
    fleetTime,
    players,
    bytesRead: () =>
      [...reads.map(({ log }) => log), ...(reading === undefined ? [] : [reading])].reduce(
        (sum, log) => sum + log.status().bytesRead,
        0,
      ),
    async read(place) {
      const unit = fleet.units[place];
      const restored = restoredUnit(unit, fleet, kept?.get(unit.id));
      const log = openUnitLog(unit, fleet, {
        latest: { timeMs: () => toMs },
        ...(restored?.logs && { saved: restored.logs }),
      });
      log.setFiles(found.files.get(unit.id) ?? []);
      reading = log;
      const player = restored?.player ?? startPlayer(startUnit(unit, fleet), restored?.services ?? services);
      const findings: Finding[] = [];
      for await (const batch of readToEnd(log)) {
        markReadings(fleetTime, batch);
        findings.push(...play(player, batch, true, log.takeLate()));
      }
      players.push(player);
      reads.push({ place, player, log, findings, restored });
      reading = undefined;
    },
    finish: (endMs, wholeTime) =>
      reads.map(({ place, player, log, findings, restored }) => {
        playClock(player, endMs, findings);
        const { unit } = player.state;
        const { id } = unit;
        const told = withoutFleetSilences(player, findings, wholeTime);
        const responses = restored?.responses ?? {};
        const people = kept?.get(id);
        if (people) {
          const words = people.words.filter(({ row }) => row > (restored?.wordRow ?? 0));
          respond(responses, unit, eventsAfter(restored, id, told), words);
          for (const response of Object.values(responses)) endShelving(response, endMs);
        }
        const status = log.status();
        const problem =
          found.folderProblem ??
          found.problems.get(id) ??
          nothingRead(player, status, toMs) ??
          status.problem;
        return {
          place,
          id,
          findings: told,
          ...(restored?.readAgain && { toldMs: restored.readAgain.toldMs }),
          view: {
            ...viewUnit(player.state, fleet, logView(status), problem, endMs, responses, player.services),
            ...foundAt(unit, people?.services ?? []),
          },
          upkeep: upkeepOf(player.state),
        };
      }),
  };
}

/** A unit as it was kept; where its logs must be read again, with what people have done about it. */
function restoredUnit(unit: Unit, fleet: Fleet, kept: KeptUnit | undefined): Restored | undefined {
  if (kept === undefined || kept.saved === null) return undefined;
  return restore(unit, fleet, kept.saved, kept.services);
}

/** Findings as events that go on from what was told. */
function eventsAfter(
  restored: Restored | undefined,
  unit: string,
  findings: readonly Finding[],
): AlarmEvent[] {
  const toldMs = restored?.readAgain?.toldMs ?? Number.NEGATIVE_INFINITY;
  return findings
    .filter(({ timeMs }) => timeMs > toldMs)
    .map((finding, n) => ({ ...finding, unit, seq: (restored?.seq ?? 0) + n + 1 }));
}

/** A unit whose logs are in order and hold no reading is as little known as one without logs. */
function nothingRead({ state }: Player, { readable, rejected }: LogStatus, toMs: number): string | null {
  if (state.condition.lastTimeMs !== null || !readable || rejected > 0) return null;
  return `no reading in its log${Number.isFinite(toMs) ? ` up to ${iso(toMs)}` : " yet"}`;
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
