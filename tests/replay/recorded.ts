import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { inOrder } from "../../src/collector/event-lines.ts";
import { readOnce } from "../../src/collector/read-once.ts";
import { openRecording, type Recording, type RecordingStart } from "../../src/replay/recording.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { rowsOf } from "../support/unit-days.ts";

/** A fleet's keys and readings as a recording; the logs of a unit are cut in two, the older one compressed. */
export async function recorded(
  units: readonly { readonly id: string; readonly yaml?: string; readonly batch: ReadingBatch }[],
  { top = "", fromMs, toMs }: { top?: string; fromMs?: number; toMs?: number } = {},
) {
  const logs = units.flatMap(({ id, batch }) => {
    const half = Math.floor(batch.rows / 2);
    return [
      [`logs/${id}.csv.1.gz`, gzipSync(logText(rowsOf(batch, 0, half)))],
      [`logs/${id}.csv`, logText(rowsOf(batch, half, batch.rows))],
    ];
  });
  const folder = folderWith(Object.fromEntries(logs));
  const text = fleetFile(
    units.map(({ id, yaml = "" }) => `{ id: ${id}${yaml} }`),
    top,
  );
  const fleet = { ...fleetOf(text, folder), logs: join(folder, "logs") };
  const { services } = fleet;
  const read = await readOnce(fleet, { services, toMs });
  const events = inOrder(read.units);
  const start: RecordingStart = {
    fleet,
    stateFolder: "/state",
    services,
    events,
    logs: read.units.map(({ view: { log, problem } }) => ({ log, problem })),
    fromMs,
    toMs: toMs ?? read.newestMs,
  };
  return { fleet, events, start, recording: await openRecording(start) };
}

/** Plays to a time without interruption. */
export async function goTo(recording: Recording, timeMs: number): Promise<void> {
  if (!(await recording.goTo(timeMs, () => false))) throw new Error("broken off");
}
