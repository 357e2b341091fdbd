import { randomUUID } from "node:crypto";
import { withLapses } from "../fleet/services.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import { addService, type SaidService, servicesAfter } from "../store/services.ts";
import { visible } from "../terms/text.ts";
import { print } from "./context.ts";
import { type KeptState, must, speaker } from "./kept-state.ts";
import { unitIn } from "./load-fleet.ts";

/** A unit's records in order of time: the fleet file's and those that people gave. Throws where there is no such unit. */
export function recordsOf({ fleet, db }: KeptState, unit: string): readonly ServiceRecord[] {
  unitIn(fleet, unit);
  return ofUnit(unit, fleet, must(servicesAfter(db, 0)));
}

/** A unit's records in order of time, of all that were given. */
export function ofUnit(
  unit: string,
  fleet: Fleet,
  given: readonly ServiceRecord[],
): readonly ServiceRecord[] {
  const all = [...fleet.services, ...given].filter((one) => one.unit === unit);
  return withLapses(all).toSorted((a, b) => a.atMs - b.atMs);
}

/** The serial number of the skid that stands at a unit's place: by the last swap, else by the fleet file. */
export function serialAt(records: readonly ServiceRecord[], written: string | undefined): string | undefined {
  return records.findLast(({ visit }) => visit?.skid !== undefined)?.visit?.skid?.to ?? written;
}

/** Puts a record into the state folder. */
export function keep(
  kept: KeptState,
  record: Omit<ServiceRecord, "by" | "note">,
  { by, note }: { readonly by?: string; readonly note?: string },
): void {
  unitIn(kept.fleet, record.unit);
  const said: SaidService = {
    ...record,
    id: randomUUID(),
    by: speaker(by),
    saidMs: Date.now(),
    ...(note && { note: visible(note) }),
  };
  must(addService(kept.db, said));
  if (!kept.collects()) print("no process collects there now: it counts once watch or collect runs");
}
