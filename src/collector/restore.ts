import type { UnitLogState } from "../acquire/unit-log.ts";
import type { AlarmLife } from "../assess/life.ts";
import type { UnitResponses } from "../assess/response.ts";
import { endsByItself, withLapses } from "../fleet/services.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import type { SavedUnit } from "../store/checkpoints.ts";
import type { StoredService } from "../store/services.ts";
import { decodeUnit, hash, livesIn, partsOf } from "./checkpoint.ts";
import { goOnPlaying, type Player } from "./play.ts";
import type { Summing } from "./summing.ts";

/** What the collector goes on with besides the unit's state and its logs: a kept unit's `people`. */
export interface KeptPeople {
  readonly responses: UnitResponses;
  readonly summing: Summing;
  /** Up to when services have been played, ms. */
  readonly playedMs: number;
  /** Services of an earlier time that were recorded late and have not been played yet. */
  readonly waiting: readonly ServiceRecord[];
  /** A hash of what the reading of its logs rests on. */
  readonly reading: string;
  /** Of one that is in the midst of being read again; a state folder from before has none. */
  readonly readAgain?: Restored["readAgain"];
}

/** A unit as it goes on after a restart. */
export interface Restored {
  /** It goes on; absent where its logs are read again from their beginning. */
  readonly player?: Player;
  readonly logs?: UnitLogState;
  readonly responses: UnitResponses;
  readonly summing?: Summing;
  /** Of one that is read again: all of them. */
  readonly services: readonly ServiceRecord[];
  /** All that people recorded of it. */
  readonly recorded: readonly ServiceRecord[];
  readonly seq: number;
  readonly wordRow: number;
  readonly serviceRow: number;
  /** Alarms whose rule starts anew: what stood of them is over without a reading having said so. */
  readonly dropped: readonly AlarmLife[];
  /** Events up to `toldMs` have been told; `lives` are those alarms that stood. */
  readonly readAgain: { readonly toldMs: number; readonly lives: readonly AlarmLife[] } | null;
}

/** A hash of what reading a unit's logs rests on in the fleet file: where it changes they are read again. */
export function readingHash({ columns, log, sampleIntervalMs, baseline }: Unit, fleet: Fleet): string {
  return hash([columns, log, sampleIntervalMs, baseline, fleet.timezone, fleet.orderWithinMs]);
}

/** A unit of which nothing is kept: what people recorded counts from its first reading on. */
export function startAnew(unit: Unit, fleet: Fleet, stored: readonly StoredService[]): Restored {
  return {
    responses: {},
    services: servicesToPlay(unit, fleet, stored),
    recorded: stored,
    seq: 0,
    wordRow: 0,
    serviceRow: stored.at(-1)?.row ?? 0,
    dropped: [],
    readAgain: null,
  };
}

/**
 * A kept unit under today's fleet file. A rule whose settings or version changed starts anew; where what its
 * reading or its conditioning rests on did, its logs are read again from their beginning: without telling
 * again what was told.
 */
export function restore(
  unit: Unit,
  fleet: Fleet,
  saved: SavedUnit,
  stored: readonly StoredService[],
): Restored {
  const people = saved.people as KeptPeople;
  const parts = partsOf(saved.text);
  const stood = livesIn(parts).filter(({ told }) => told === "raised" || told === "suppressed");
  const { state, anew } = decodeUnit(unit, fleet, parts);
  const { seq, wordRow, serviceRow } = saved;
  const common = { responses: people.responses, seq, wordRow };
  if (people.reading !== readingHash(unit, fleet) || anew.includes("condition")) {
    return {
      ...startAnew(unit, fleet, stored),
      ...common,
      readAgain: people.readAgain ?? { toldMs: saved.toldMs ?? 0, lives: stood },
    };
  }
  const sameSignals = people.summing.open[0]?.min.length === signalsOf(unit).length;
  return {
    ...common,
    player: goOnPlaying(
      state,
      servicesToPlay(unit, fleet, stored, { ...people, row: serviceRow }),
      people.playedMs,
    ),
    logs: saved.logs,
    ...(sameSignals && { summing: people.summing }),
    services: [],
    recorded: stored,
    serviceRow: stored.at(-1)?.row ?? serviceRow,
    dropped: stood.filter(({ alarm }) => anew.includes(alarm)),
    readAgain: people.readAgain ?? null,
  };
}

/** How far a unit's services have been played: up to a time, but for those that wait; and those recorded up to a row are known. */
export interface Played extends Pick<KeptPeople, "playedMs" | "waiting"> {
  readonly row: number;
}

/**
 * A unit's services that are still to be played, oldest first, from the fleet file and from what people
 * recorded: those after `playedMs`, and whatever was recorded since, for whichever time.
 */
export function servicesToPlay(
  { id }: Unit,
  fleet: Fleet,
  stored: readonly StoredService[],
  { playedMs, waiting, row }: Played = { playedMs: Number.NEGATIVE_INFINITY, waiting: [], row: 0 },
): ServiceRecord[] {
  const recorded = new Set<ServiceRecord>(stored.filter((one) => one.row > row));
  const endsRecorded = (record: ServiceRecord): boolean =>
    endsByItself(record) &&
    [...recorded].some((begun) => begun.work === record.work && begun.untilMs === record.atMs);
  const fresh = withLapses([...fleet.services, ...stored].filter(({ unit }) => unit === id)).filter(
    (record) => record.atMs > playedMs || recorded.has(record) || endsRecorded(record),
  );
  return [...waiting, ...fresh].sort((a, b) => a.atMs - b.atMs);
}
