import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { playRecordedDay, startDemoUnit } from "../../src/simulate/demo-fleet.ts";
import { demoUnits } from "../../src/simulate/demo-units.ts";
import { demoFleetFile } from "../../src/simulate/fleet-file.ts";
import { localTime, recordedEndMs, recordedFromMs } from "../../src/simulate/recorded-day.ts";
import { packedText, sampleFiles } from "../../src/simulate/samples.ts";
import type { Sample } from "../../src/simulate/sensors.ts";
import { minute } from "../../src/terms/time.ts";

const folder = join(import.meta.dirname, "../../sample-logs");
const days = new Map(demoUnits.map((unit) => [unit.id, playRecordedDay(startDemoUnit(unit))]));

function dayOf(id: string): Sample[] {
  const samples = days.get(id);
  if (samples === undefined) throw new Error(`no unit ${id}`);
  return samples;
}

function column(samples: readonly Sample[], channel: keyof Sample["values"]): number[] {
  return samples.map((sample) => Number(sample.values[channel]));
}

function between(id: string, from: string, to: string): Sample[] {
  return dayOf(id).filter(({ timeMs }) => timeMs >= localTime(from) && timeMs < localTime(to));
}

describe("the demo fleet", () => {
  test("is 24 units at six sites, one of them without a log", () => {
    expect(new Set(demoUnits.map((unit) => unit.id)).size).toBe(24);
    expect(new Set(demoUnits.map((unit) => unit.site)).size).toBe(6);
    expect(demoUnits.filter((unit) => unit.kept === "missing").map((unit) => unit.id)).toEqual(["SB-05"]);
  });

  test("has a fleet file that reads without a problem and says what the units are", () => {
    const read = readFleet(demoFleetFile(), { path: "fleet.yaml", folder }, {});
    if ("problems" in read) throw new Error(read.problems.join("\n"));
    expect(read.fleet.units.map((unit) => unit.id)).toEqual(demoUnits.map((unit) => unit.id));
    expect(read.fleet.sites).toHaveLength(6);
    const byId = new Map(read.fleet.units.map((unit) => [unit.id, unit]));
    expect(byId.get("SB-02")?.runs).toEqual({ kind: "windows", windows: [{ from: 1200, to: 360 }] });
    expect(byId.get("SB-03")?.motor.temperatureAt).toBe("winding");
    expect(byId.get("PW-02")?.columns.channels.suction_pressure).toEqual([
      { column: "Vac", unit: "psi", vacuum: true, range: undefined, scale: undefined },
    ]);
    expect(byId.get("AC-04")?.loggerPower).toBe("same outlet");
    expect(byId.get("QM-01")?.piping.suctionLiftM).toBeCloseTo(1.2192, 6);
    expect(read.fleet.services).toEqual([
      { unit: "OX-01", work: "repair", step: "begin", atMs: localTime("09:35") },
      { unit: "OX-01", work: "repair", step: "end", atMs: localTime("09:54") },
    ]);
  });

  test("stands in the checkout as it would be written again", () => {
    expect(readFileSync(join(folder, "fleet.yaml"), "utf8")).toBe(demoFleetFile());
    for (const unit of demoUnits) {
      for (const { path, text, packed } of sampleFiles(unit)) {
        const bytes = readFileSync(join(folder, "logs", path));
        const stored = (packed ? gunzipSync(bytes) : bytes).toString("utf8");
        expect(stored === text, path).toBe(true);
      }
    }
  });

  test("packs its logs with no time and no system in their headers, so that they are the same anywhere", () => {
    const header = packedText("time,motor_current_a\n", 9);
    expect(header.readUInt32LE(4)).toBe(0);
    expect(header[9]).toBe(255);
    expect(gunzipSync(header).toString()).toBe("time,motor_current_a\n");
  });

  test("takes less than 1.5 MB of the checkout", () => {
    const logs = readdirSync(join(folder, "logs"), { recursive: true, encoding: "utf8" });
    const bytes = logs.reduce((sum, path) => sum + statSync(join(folder, "logs", path)).size, 0);
    expect(bytes).toBeGreaterThan(500_000);
    expect(bytes).toBeLessThan(1_500_000);
  });
});

describe("the recorded day", () => {
  test("has 2880 readings of each unit, 30 s apart, but of the one that fell silent", () => {
    for (const [id, samples] of days) {
      expect(samples.length, id).toBe(id === "FP-03" ? 2799 : 2880);
      const steps = samples.slice(1).map((sample, i) => sample.timeMs - (samples[i]?.timeMs ?? 0));
      expect(new Set(steps), id).toEqual(new Set([30_000]));
      expect(samples[0]?.timeMs).toBeGreaterThan(recordedFromMs);
      expect(samples.at(-1)?.timeMs).toBeLessThanOrEqual(recordedEndMs);
    }
  });

  test("is ordinary at most units: shells between 45 and 70 °C in the afternoon, pressures steady", () => {
    const ordinary = demoUnits.filter(
      (unit) =>
        unit.runs === "always" &&
        unit.season === undefined &&
        unit.temperatureAt === undefined &&
        unit.faults === undefined,
    );
    expect(ordinary.length).toBeGreaterThanOrEqual(10);
    for (const { id } of ordinary) {
      const samples = dayOf(id);
      const pressures = column(samples, "discharge_pressure");
      const mean = pressures.reduce((a, b) => a + b) / pressures.length;
      expect(Math.min(...pressures) / mean, id).toBeGreaterThan(0.9);
      expect(Math.max(...pressures) / mean, id).toBeLessThan(1.1);
      const temperatures = column(samples, "motor_temperature");
      expect(Math.max(...temperatures), id).toBeLessThan(70);
      expect(Math.min(...temperatures), id).toBeGreaterThan(42);
      expect(Math.max(...temperatures) - Math.min(...temperatures), id).toBeGreaterThan(10);
    }
  });

  test("OX-01 loses its prime, is seen to, and runs again", () => {
    const before = column(between("OX-01", "08:00", "08:50"), "discharge_pressure");
    const lost = column(between("OX-01", "08:54", "09:36"), "discharge_pressure");
    const seen = column(between("OX-01", "09:37", "09:47"), "motor_current");
    const after = column(between("OX-01", "09:55", "17:00"), "discharge_pressure");
    expect(Math.max(...lost)).toBeLessThan(0.1 * Math.min(...before));
    expect(Math.max(...seen)).toBeLessThan(0.1);
    expect(Math.min(...after)).toBeGreaterThan(0.9 * Math.min(...before));
  });

  test("SB-01 has lost its prime behind a check valve at the end", () => {
    const end = between("SB-01", "14:45", "17:00");
    expect(Math.max(...column(end, "discharge_pressure"))).toBeLessThan(10);
    expect(Math.max(...column(end, "suction_pressure"))).toBeLessThan(-15);
    expect(Math.min(...column(end, "motor_current"))).toBeGreaterThan(5);
  });

  test("AC-03 passes 90 °C in the hot afternoon", () => {
    expect(Math.max(...column(between("AC-03", "00:00", "12:30"), "motor_temperature"))).toBeLessThan(70);
    expect(Math.min(...column(between("AC-03", "16:30", "17:00"), "motor_temperature"))).toBeGreaterThan(90);
  });

  test("the ozone of OX-02 is in fault, that of FP-01 on while it rests", () => {
    expect(new Set(between("OX-02", "15:30", "17:00").map(({ values }) => values.ozone))).toEqual(
      new Set(["fault"]),
    );
    const resting = between("FP-01", "14:05", "17:00");
    expect(new Set(resting.map(({ values }) => values.ozone))).toEqual(new Set(["on"]));
    expect(Math.max(...column(resting, "motor_current"))).toBeLessThan(0.1);
  });

  test("QM-04 stands still within its window, SB-02 and the laid-up QM-06 rest as they should", () => {
    for (const id of ["QM-04", "SB-02", "QM-06"]) {
      expect(Math.max(...column(between(id, "14:10", "17:00"), "motor_current")), id).toBeLessThan(0.1);
    }
    expect(Math.min(...column(between("SB-02", "01:00", "05:00"), "motor_current"))).toBeGreaterThan(5);
    expect(Math.max(...column(dayOf("QM-06"), "motor_current"))).toBeLessThan(0.1);
  });

  test("FP-03 fell silent 40 min before the end", () => {
    expect(recordedEndMs - (dayOf("FP-03").at(-1)?.timeMs ?? 0)).toBeGreaterThanOrEqual(40 * minute);
    expect(recordedEndMs - (dayOf("FP-03").at(-1)?.timeMs ?? 0)).toBeLessThan(41 * minute);
  });

  test("ozone is off at the bypassed and the unfitted unit all day", () => {
    for (const id of ["PW-01", "FP-02"]) {
      expect(new Set(dayOf(id).map(({ values }) => values.ozone))).toEqual(new Set(["off"]));
    }
  });

  test("logs have a gap, repeated and late rows, and a line of garbage with control characters", () => {
    const times = (id: string) => {
      const text = demoUnits.filter((unit) => unit.id === id).flatMap(sampleFiles)[0]?.text ?? "";
      return text.split("\n").slice(1, -1);
    };
    expect(times("QM-03")).toHaveLength(2880 - 12);
    expect(times("QM-02")).toHaveLength(2881);
    expect(times("QM-02").filter((line) => line.includes("\u001b[2J"))).toHaveLength(1);
    const kept = times("AC-04");
    expect(kept).toHaveLength(2883);
    const once = [...new Set(kept)];
    expect(once).toHaveLength(2880);
    expect(once).not.toEqual(once.toSorted());
  });
});
