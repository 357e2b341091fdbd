import { ruleSettings } from "../../src/detect/rules.ts";
import { type Input, startUnit, step, type UnitState } from "../../src/engine.ts";
import { readFleet } from "../../src/fleet/read.ts";
import type { Unit } from "../../src/fleet/unit.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { type Channel, channelIndex, channels } from "../../src/terms/channels.ts";
import type { Finding } from "../../src/terms/events.ts";
import { iso } from "../../src/terms/time.ts";

/** The unit of a small fleet file; `yaml` is the unit's own keys, in flow style. */
export function unitOf(yaml = "{ id: LM-01 }", timezone = "UTC"): Unit {
  const text = `timezone: ${timezone}\nunits:\n  - ${yaml}\n`;
  const read = readFleet(text, { path: "fleet.yaml", folder: "/fleet" }, ruleSettings);
  if ("problems" in read) throw new Error(read.problems.join("\n"));
  return read.fleet.units[0];
}

/** Values of one reading; a channel that is left out is missing. Ozone: 0 off, 1 on, 2 fault. */
export type Values = Partial<Record<Channel, number>>;

export interface Stretch {
  /** How long, in seconds. */
  readonly seconds: number;
  /** The readings of it: constant, or by the seconds since the stretch began. */
  readonly values: Values | ((second: number) => Values);
}

export const midnight = Date.parse("2026-05-04T00:00:00Z");

/** Stretches one after the other as one batch, a reading every `every` seconds. */
export function readings(stretches: readonly Stretch[], every = 10, startMs = midnight): ReadingBatch {
  const times: number[] = [];
  const rows: Values[] = [];
  let beginMs = startMs;
  for (const { seconds, values } of stretches) {
    for (let s = 0; s < seconds; s += every) {
      times.push(beginMs + s * 1000);
      rows.push(typeof values === "function" ? values(s) : values);
    }
    beginMs += seconds * 1000;
  }
  return {
    rows: times.length,
    timeMs: Float64Array.from(times),
    columns: channels.map((channel) =>
      rows.some((row) => row[channel] !== undefined)
        ? Float64Array.from(rows.map((row) => row[channel] ?? Number.NaN))
        : undefined,
    ),
  };
}

/** A part of a batch, copied. */
export function rowsOf(batch: ReadingBatch, from: number, to: number): ReadingBatch {
  return {
    rows: to - from,
    timeMs: batch.timeMs.slice(from, to),
    columns: batch.columns.map((column) => column?.slice(from, to)),
  };
}

/** A repeatable wobble in −1…1, different for each channel and second. */
export function wobble(second: number, channel: Channel): number {
  const x = Math.sin(second * 12.9898 + channelIndex[channel] * 78.233) * 43758.5453;
  return 2 * (x - Math.floor(x)) - 1;
}

/** Clean running of a half-horsepower pump at its pond, with a little noise. */
export function clean(second: number): Values {
  return {
    motor_current: 9.3 + 0.05 * wobble(second, "motor_current"),
    motor_temperature: 58 + 0.2 * wobble(second, "motor_temperature"),
    suction_pressure: -24 + 0.4 * wobble(second, "suction_pressure"),
    discharge_pressure: 86 + 0.8 * wobble(second, "discharge_pressure"),
    gas_pressure: 24 + 0.2 * wobble(second, "gas_pressure"),
    ozone: 1,
  };
}

export const hourClean: Stretch = { seconds: 3600, values: clean };

/** Clean running with some of its values changed. */
export function but(change: Values): (second: number) => Values {
  return (second) => ({ ...clean(second), ...change });
}

export function start(unit: Unit, timezone = "UTC"): UnitState {
  return startUnit(unit, { timezone });
}

export function run(state: UnitState, ...inputs: readonly Input[]): Finding[] {
  return inputs.flatMap((input) => step(state, asLogged(state.unit, input)));
}

/** The logger of a unit without an ozone cell has no column for it. */
function asLogged({ ozone }: Unit, input: Input): Input {
  if (ozone !== "none" || input.kind !== "readings") return input;
  const columns = input.batch.columns.map((column, k) => (k === channelIndex.ozone ? undefined : column));
  return { kind: "readings", batch: { ...input.batch, columns } };
}

/** What a unit tells of these stretches, a line each: `01:00:30 raised lost-prime`. */
export function told(unit: Unit, stretches: readonly Stretch[], every = 10): string[] {
  return lines(run(start(unit), { kind: "readings", batch: readings(stretches, every) }));
}

export function lines(findings: readonly Finding[]): string[] {
  return findings.map(
    ({ timeMs, event, alarm, by }) =>
      `${iso(timeMs).slice(11, 19)} ${event} ${alarm}${by ? ` by ${by}` : ""}`,
  );
}
