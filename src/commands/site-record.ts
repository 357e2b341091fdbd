import { chmodSync, readFileSync, realpathSync, statSync } from "node:fs";
import { dirname } from "node:path";
import { ruleSettings } from "../detect/rules.ts";
import { readFleet } from "../fleet/read.ts";
import { withUnitKey } from "../fleet/record-at.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { CannotWork, fileProblem } from "./context.ts";
import { writeWhole } from "./whole-file.ts";

/** Keeps a unit's commissioning record in the fleet file, in place of an earlier one, and nothing else. Throws `CannotWork`. */
export function keepRecord(path: string, fleet: Fleet, unit: Unit, record: string): void {
  const file = reading(path, () => realpathSync(path));
  const next = withUnitKey(
    reading(path, () => readFileSync(file, "utf8")),
    unit.id,
    "commissioning",
    record,
  );
  const read = next === null ? null : readFleet(next, { path, folder: dirname(path) }, ruleSettings);
  const isOnlyThat =
    read !== null && !("problems" in read) && besides(read.fleet, unit.id) === besides(fleet, unit.id);
  if (next === null || !isOnlyThat)
    throw new CannotWork(
      `--record: ${visible(unit.id)} is written in the fleet file in a way that cannot be added to; write under it: commissioning: ${record}`,
    );
  const { mode } = reading(path, () => statSync(file));
  writeWhole(file, [next]);
  chmodSync(file, mode);
}

function reading<T>(path: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    throw new CannotWork(fileProblem(path, error));
  }
}

/** A fleet but for one unit's commissioning record, as text. */
function besides(fleet: Fleet, unit: string): string {
  const units = fleet.units.map((one) => (one.id === unit ? { ...one, commissioning: undefined } : one));
  return JSON.stringify({ ...fleet, units });
}
