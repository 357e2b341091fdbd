import { findLogs } from "../acquire/find.ts";
import type { Fleet } from "../fleet/unit.ts";
import { day } from "../terms/time.ts";
import { unitRows } from "./unit-rows.ts";

/** Days from the first to the last reading of each of a fleet's units, together; silences count. */
export async function unitDaysOf(fleet: Fleet): Promise<number> {
  const { files } = await findLogs(fleet);
  let ms = 0;
  for (const unit of fleet.units) {
    let firstMs: number | undefined;
    let lastMs = 0;
    for await (const { rows, timeMs } of unitRows(unit, fleet, files.get(unit.id) ?? [])) {
      if (rows === 0) continue;
      firstMs ??= timeMs[0];
      lastMs = timeMs[rows - 1];
    }
    if (firstMs !== undefined) ms += lastMs - firstMs;
  }
  return ms / day;
}
