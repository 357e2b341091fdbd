import { readFleet } from "../fleet/read.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";

/** A fleet of one unit with every default, for a log without a fleet file. `logs` is an absolute folder. */
export function bareFleet(id: string, logs: string): { fleet: Fleet; unit: Unit } {
  const read = readFleet("units: [{ id: log }]", { path: "fleet.yaml", folder: logs }, {});
  const unit = "fleet" in read ? read.fleet.units[0] : undefined;
  if (!("fleet" in read) || unit === undefined) throw new Error("a unit with defaults only is refused");
  const named = { ...unit, id };
  return { fleet: { ...read.fleet, logs, units: [named] }, unit: named };
}
