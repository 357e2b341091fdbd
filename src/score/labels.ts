import { findLogs } from "../acquire/find.ts";
import { inspectLog } from "../acquire/inspect.ts";
import { nearest } from "../fleet/nearest.ts";
import { quoted } from "../fleet/quantity.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { type Channel, channelIndex } from "../terms/channels.ts";
import { visible } from "../terms/text.ts";
import { iso } from "../terms/time.ts";
import { unitRows } from "./unit-rows.ts";

/** The rows of a unit's log that carry a label, in order of time. */
export interface Labels {
  readonly unit: string;
  readonly timeMs: readonly number[];
  /** Whether a row is labelled anomalous. */
  readonly anomalous: readonly boolean[];
}

/** Where a label column is read: a channel that no unit's scale changes. */
const place: Channel = "water_level";

/** Why a log has no such label; undefined where it has one. Throws what the file system throws. */
async function whyNoLabel(path: string, unit: Unit, column: string): Promise<string | undefined> {
  const dialect = await inspectLog(path, unit);
  if (typeof dialect === "string") return `${visible(path)}: ${dialect}`;
  const { header } = dialect.layout;
  if (header.some((name) => name.trim().toLowerCase() === column.trim().toLowerCase())) return undefined;
  return `${visible(path)}: it has no column ${quoted(column)}; the nearest is ${quoted(nearest(column, header))}`;
}

/**
 * The label column of every unit of a fleet that has logs: 0 a normal row, 1 an anomalous one, an empty cell no
 * label. Problems are a line each. Throws what the file system throws.
 */
export async function readLabels(
  fleet: Fleet,
  column: string,
): Promise<{ readonly labels: readonly Labels[] } | { readonly problems: readonly string[] }> {
  const { files, problems: notFound, folderProblem } = await findLogs(fleet);
  if (folderProblem !== undefined) return { problems: [folderProblem] };
  const labels: Labels[] = [];
  const problems: string[] = [];
  for (const unit of fleet.units) {
    const own = files.get(unit.id) ?? [];
    const [first] = own;
    const problem =
      first === undefined
        ? `${visible(unit.id)}: ${notFound.get(unit.id) ?? "it has no log"}`
        : await whyNoLabel(first, unit, column);
    const read = problem ?? (await labelsOf(unit, fleet, own, column));
    if (typeof read === "string") problems.push(read);
    else labels.push(read);
  }
  return problems.length > 0 ? { problems } : { labels };
}

async function labelsOf(
  unit: Unit,
  fleet: Fleet,
  files: readonly string[],
  column: string,
): Promise<Labels | string> {
  const channels = { ...unit.columns.channels, [place]: [{ column }] };
  const labelled = { ...unit, columns: { ...unit.columns, channels } };
  const timeMs: number[] = [];
  const anomalous: boolean[] = [];
  for await (const batch of unitRows(labelled, fleet, files)) {
    const label = batch.columns[channelIndex[place]];
    for (let row = 0; row < batch.rows; row++) {
      const value = label?.[row] ?? Number.NaN;
      if (Number.isNaN(value)) continue;
      if (value !== 0 && value !== 1) {
        const at = iso(batch.timeMs[row]);
        return `${visible(unit.id)}: the label ${quoted(column)} is ${value} at ${at}; write 0 or 1`;
      }
      timeMs.push(batch.timeMs[row]);
      anomalous.push(value === 1);
    }
  }
  if (timeMs.length === 0) return `${visible(unit.id)}: no row with a label ${quoted(column)} can be read`;
  return { unit: unit.id, timeMs, anomalous };
}
