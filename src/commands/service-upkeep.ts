import { type Booking, bookingsOf } from "../advise/upkeep/due.ts";
import { type RunTime, runTime } from "../advise/upkeep/run-hours.ts";
import { type SeasonWork, seasonWork } from "../advise/upkeep/season.ts";
import type { FleetView, UnitView } from "../collector/fleet-view.ts";
import { readOnce } from "../collector/read-once.ts";
import type { UnitUpkeep } from "../collector/upkeep.ts";
import { noteService, startUpkeep } from "../detect/service-overdue.ts";
import { laidUp, nextInSeason } from "../fleet/schedule.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import { readDatabase } from "../store/database.ts";
import type { Database } from "../store/sqlite.ts";
import { summariesOf } from "../store/summaries.ts";
import { channelIndex } from "../terms/channels.ts";
import { hour } from "../terms/time.ts";
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
  const runSince = (fromMs: number): RunTime | null => running(db, unit.id, runningA, fromMs, nowMs);
  const known = { upkeep, nextInSeason: nextInSeason(unit, fleet.timezone), fouling };
  return bookingsOf(unit, known, runSince, nowMs);
}

/** How long a unit ran, by its kept hours; null where none of its motor's current is kept. */
function running(
  db: Database | null,
  unit: string,
  runningA: number,
  fromMs: number,
  nowMs: number,
): RunTime | null {
  if (db === null) return null;
  const { signals } = must(summariesOf(db, unit, hour, fromMs, nowMs));
  const current = signals.find(({ signal }) => signal === channelIndex.motor_current);
  return current === undefined ? null : runTime(current, runningA);
}
