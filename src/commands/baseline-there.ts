import { decodeUnit } from "../collector/checkpoint.ts";
import { readOnce } from "../collector/read-once.ts";
import { loadUnit } from "../store/checkpoints.ts";
import { type KeptState, must } from "./kept-state.ts";
import { unitIn } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { readKept } from "./read-kept.ts";

/** Whether a unit has a baseline: by what is kept of it, else by its logs, read on from there. */
export async function hasBaseline(
  { fleet, db }: Pick<KeptState, "fleet" | "db">,
  id: string,
  folder: string,
): Promise<boolean> {
  const saved = must(loadUnit(db, id));
  if (saved !== null) {
    const { baseline } = decodeUnit(unitIn(fleet, id), fleet, saved.text).state.condition;
    if (baseline !== null) return true;
  }
  const nowMs = Date.now();
  const kept = readKept(fleet, folder, nowMs, true);
  const services = [...fleet.services, ...kept.services];
  const { units } = await withProgress((onProgress) =>
    readOnce(fleet, { toMs: nowMs, clockMs: nowMs, services, kept: kept.units, onProgress }),
  );
  return units.some((one) => one.id === id && one.view.baseline !== null);
}
