import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { channelUnit } from "../terms/channels.ts";
import type { FleetView, UnitState } from "./fleet-view.ts";
import { type Family, familyLines, type Sample } from "./metric-family.ts";
import { performanceFamilies } from "./performance-metrics.ts";
import type { PerformanceView } from "./read-performance.ts";

const states: readonly UnitState[] = [
  "running",
  "priming",
  "stopped",
  "under service",
  "laid up",
  "no readings",
];

/**
 * A fleet's figures as text by OpenMetrics 1.0 (https://github.com/prometheus/OpenMetrics, specification/OpenMetrics.md):
 * families in a fixed order, readings in stored units, times in seconds, `# EOF` at the end. `windows`: figures of `metricWindows`.
 */
export function openMetrics(view: FleetView, windows: readonly (PerformanceView | null)[] = []): string {
  const { units, clockMs } = view;
  const lines: string[] = [];
  const family = (
    name: string,
    type: Family["type"],
    help: string,
    samples: readonly Sample[],
    unit?: string,
  ): void => {
    lines.push(...familyLines({ name, type, help, samples, ...(unit !== undefined && { unit }) }));
  };
  family(
    "tarnwatch_collected_at_seconds",
    "gauge",
    "When these figures were made, Unix time.",
    [[{}, clockMs / 1000]],
    "seconds",
  );
  family("tarnwatch_caught_up", "gauge", "1 once the logs have been read up to now.", [
    [{}, view.catchingUp ? 0 : 1],
  ]);
  family(
    "tarnwatch_unit_state",
    "stateset",
    "The unit's operating state.",
    units.flatMap((unit) =>
      states.map(
        (state): Sample => [{ unit: unit.id, tarnwatch_unit_state: state }, unit.state === state ? 1 : 0],
      ),
    ),
  );
  family(
    "tarnwatch_unit_readable",
    "gauge",
    "0 where the unit's logs cannot be read.",
    units.map(({ id, problem }) => [{ unit: id }, problem === null ? 1 : 0]),
  );
  family(
    "tarnwatch_last_reading_age_seconds",
    "gauge",
    "Time since the unit's last reading.",
    units.map(({ id, lastReadingMs }) => [
      { unit: id },
      lastReadingMs === null ? null : (clockMs - lastReadingMs) / 1000,
    ]),
    "seconds",
  );
  family(
    "tarnwatch_reading",
    "gauge",
    "The newest reading of each channel, in the unit of its label.",
    units.flatMap(({ id, readings }) =>
      readings.map(
        ({ channel, part, value }): Sample => [
          { unit: id, channel, part: String(part + 1), in: channelUnit[channel] },
          value,
        ],
      ),
    ),
  );
  family(
    "tarnwatch_alarm",
    "gauge",
    "1 for each alarm that stands, by its priority and state (ANSI/ISA-18.2).",
    units.flatMap(({ id, alarms }) =>
      alarms.map(({ alarm, priority, state }): Sample => [{ unit: id, alarm, priority, state }, 1]),
    ),
  );
  const counter = (name: string, help: string, count: (unit: FleetView["units"][number]) => number) =>
    family(
      name,
      "counter",
      help,
      units.map((unit) => [{ unit: unit.id }, count(unit)]),
    );
  counter("tarnwatch_log_rows", "Rows taken in order.", ({ log }) => log.rows);
  counter("tarnwatch_log_rejected_rows", "Rows that could not be read.", ({ log }) => log.rejected);
  counter("tarnwatch_log_late_rows", "Rows that came too late to be judged.", ({ log }) => log.late);
  for (const each of performanceFamilies(windows)) lines.push(...familyLines(each));
  return `${lines.join("\n")}\n# EOF\n`;
}

/** Puts a text in a file's place whole: who reads it meanwhile reads the one before. Throws what the disk refuses. */
export function replaceFile(path: string, text: string): void {
  const fresh = `${path}.${process.pid}.tmp`;
  try {
    const file = openSync(fresh, "w");
    try {
      writeFileSync(file, text);
      // Else a loss of power may leave the new name on an empty file.
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(fresh, path);
  } catch (error) {
    rmSync(fresh, { force: true });
    throw error;
  }
}
