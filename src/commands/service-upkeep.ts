import { type Booking, bookingsOf, type RunTime } from "../advise/upkeep/due.ts";
import { type SeasonWork, seasonWork } from "../advise/upkeep/season.ts";
import type { FleetView, UnitView } from "../collector/fleet-view.ts";
import { readOnce } from "../collector/read-once.ts";
import type { UnitUpkeep } from "../collector/upkeep.ts";
import { physicalRanges } from "../condition/physical-range.ts";
import { noteService, startUpkeep } from "../detect/service-overdue.ts";
import { laidUp, nextInSeason } from "../fleet/schedule.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import { runningOf } from "../report/running.ts";
import { spansOf, withinBounds } from "../report/spans.ts";
import { readDatabase } from "../store/database.ts";
import type { Database } from "../store/sqlite.ts";
import { levels, summariesOf } from "../store/summaries.ts";
import { viewOf } from "./fleet-status.ts";
import { must } from "./kept-state.ts";
import { loadFleet } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { readKept } from "./read-kept.ts";
import { ofUnit } from "./service-records.ts";
import { stateFolder } from "./state-folder.ts";

/** A unit with what is on record of it and what is to be booked. */
export interface UnitDue {
  readonly unit: Unit;
  readonly view: UnitView;
  readonly records: readonly ServiceRecord[];
  readonly bookings: readonly Booking[];
  readonly season: SeasonWork | null;
}

export interface FleetDue {
  readonly fleet: Fleet;
  readonly nowMs: number;
  readonly view: FleetView;
  /** In the order of the fleet file. */
  readonly units: readonly UnitDue[];
}

/** A fleet as it stands now: its logs read through, or on from where they are kept; changes nothing. */
export async function readDue(
  fleetPath: string | undefined,
  options: { readonly state?: string },
): Promise<FleetDue> {
  const { fleet, path } = await loadFleet(fleetPath);
  const nowMs = Date.now();
  const folder = stateFolder(fleet, path, options.state);
  const kept = readKept(fleet, folder, nowMs, true);
  const services = [...fleet.services, ...kept.services];
  const read = await withProgress((onProgress) =>
    readOnce(fleet, { toMs: nowMs, clockMs: nowMs, services, kept: kept.units, onProgress }),
  );
  const db = must(readDatabase(folder));
  try {
    const units = read.units.map(({ view, upkeep }, place): UnitDue => {
      const unit = fleet.units[place];
      const records = ofUnit(unit.id, fleet, kept.services);
      return {
        unit,
        view,
        records,
        bookings: dueAt(unit, fleet, upkeep, records, db, nowMs),
        season: seasonWork(laidUp(unit, fleet.timezone), records, nowMs),
      };
    });
    return { fleet, nowMs, view: viewOf(fleet, read, nowMs, folder), units };
  } finally {
    db?.close();
  }
}

function dueAt(
  unit: Unit,
  fleet: Fleet,
  { firstMs, fouling, runningA }: UnitUpkeep,
  records: readonly ServiceRecord[],
  db: Database | null,
  nowMs: number,
): readonly Booking[] {
  const past = records.filter(({ atMs }) => atMs <= nowMs);
  const upkeep = startUpkeep();
  for (const record of past) noteService(upkeep, record);
  upkeep.firstMs = firstMs ?? past[0]?.atMs ?? null;
  const runSince = (fromMs: number): RunTime | null => running(db, unit, runningA, fromMs, nowMs);
  const known = { upkeep, nextInSeason: nextInSeason(unit, fleet.timezone), fouling };
  return bookingsOf(unit, known, runSince, nowMs);
}

/** How long a unit ran, by what is kept; null where nothing that tells it is. */
function running(
  db: Database | null,
  unit: Unit,
  runningA: number,
  fromMs: number,
  nowMs: number,
): RunTime | null {
  if (db === null) return null;
  const period = { fromMs, toMs: nowMs };
  const kept = levels
    .toReversed()
    .map(({ stepMs }) => must(summariesOf(db, unit.id, stepMs, fromMs - stepMs, nowMs)));
  const { by, ms, knownMs } = runningOf(withinBounds(spansOf(kept, period), physicalRanges(unit)), runningA);
  return by === null ? null : { runMs: ms, unknownMs: nowMs - fromMs - knownMs };
}
