import { parseWindow } from "../fleet/schedule-schema.ts";
import type { RunSchedule } from "../fleet/unit.ts";
import { second } from "../terms/time.ts";
import type { DemoUnit } from "./demo-unit.ts";
import { demoUnits } from "./demo-units.ts";
import { partSeed, randomFrom } from "./random.ts";
import { demoSeed, demoWeather, recordedEndMs, recordedFromMs, sampleIntervalMs } from "./recorded-day.ts";
import { type Recorder, startRecorder } from "./recorder.ts";
import type { Sample } from "./sensors.ts";
import { buildSkid, type Skid } from "./skid.ts";

const foot = 0.3048;
const boreM = 0.0409;

/** The skid of a demo unit. */
function demoSkid(unit: DemoUnit): Skid {
  const differences = randomFrom(partSeed(demoSeed + 1, placeOf(unit)));
  return buildSkid({
    headShare: differences.between(0.94, 1.06),
    riseShare: differences.between(0.85, 1.1),
    horsepower: unit.horsepower,
    voltageV: unit.voltageV,
    unloadedShare: unit.unloadedShare,
    liftM: unit.liftFt * foot,
    suctionLengthM: unit.suctionFt * foot,
    boreM,
    checkValve: unit.checkValve,
    injectorKpa: unit.injectorKpa,
    ozone: { fitted: unit.ozone === "fitted", lagS: differences.between(12, 40), follows: "water" },
  });
}

/** A demo unit at the beginning of the recorded day. */
export function startDemoUnit(unit: DemoUnit): Recorder {
  const place = placeOf(unit);
  return startRecorder(
    {
      skid: demoSkid(unit),
      runs: demoSchedule(unit),
      weather: demoWeather,
      temperatureAt: unit.temperatureAt ?? "shell",
      sharedOutlet: unit.sharedOutlet ?? false,
      intervalMs: sampleIntervalMs,
      // Loggers do not read at the same moment.
      firstMs: recordedFromMs + (1 + ((place * 7) % 30)) * second,
      faults: unit.faults ?? [],
      stops: unit.stops ?? [],
    },
    partSeed(demoSeed, place),
  );
}

/** Place of a unit in the fleet file: it gives the unit its own chance and its own moment of reading. */
function placeOf({ id }: DemoUnit): number {
  return demoUnits.findIndex((unit) => unit.id === id);
}

/** Plays a recorder to the end of the recorded day and gives what its logger wrote. */
export function playRecordedDay(recorder: Recorder): Sample[] {
  const samples: Sample[] = [];
  while (recorder.nextMs <= recordedEndMs) {
    const sample = recorder.next();
    if (sample !== undefined) samples.push(sample);
  }
  return samples;
}

/** A unit that is laid up never runs on the recorded day. */
function demoSchedule(unit: DemoUnit): RunSchedule {
  if (unit.season !== undefined) return { kind: "never" };
  if (unit.runs === "always") return { kind: "always" };
  return {
    kind: "windows",
    windows: unit.runs.map((text) => {
      const window = parseWindow(text);
      if (window === undefined) throw new RangeError(`${unit.id}: '${text}' is no daily window`);
      return window;
    }),
  };
}
