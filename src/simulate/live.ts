import { minute } from "../terms/time.ts";
import { playRecordedDay, startDemoUnit } from "./demo-fleet.ts";
import type { DemoUnit } from "./demo-unit.ts";
import { demoUnits } from "./demo-units.ts";
import { openLiveLog } from "./live-log.ts";
import { type LiveEvent, laterEvents, openingEvents, visitedUnit } from "./live-script.ts";
import { partSeed } from "./random.ts";
import { recordedEndMs } from "./recorded-day.ts";
import type { Recorder } from "./recorder.ts";
import { demoShiftMs } from "./stage.ts";

const tickMs = 200;
/** Most readings of one unit written at one tick, so that catching up never holds the screen for long. */
const mostAtOnce = 120;

/**
 * Lets the staged demo fleet live on: each unit's plant goes on from the end of the recorded day, and its
 * readings are appended to its log as they fall due.
 *
 * `fleetFolder` is the folder given to `stageDemo`, `endMs` its `nowMs`; log time runs `speed` times faster
 * than `clock` (ms; default the wall clock). Missed ticks are caught up. After `stop` nothing is written.
 * A log that cannot be written stops it and goes to `onError`, which throws by default.
 */
export function startLive(options: {
  readonly fleetFolder: string;
  readonly endMs: number;
  readonly speed: number;
  readonly seed: number;
  readonly clock?: () => number;
  readonly onError?: (error: unknown) => void;
}): { stop(): void } {
  const { fleetFolder, endMs, speed, seed, clock = Date.now } = options;
  const shiftMs = demoShiftMs(endMs);
  const begunMs = clock();
  const units = demoUnits
    .filter((unit) => unit.kept !== "missing")
    .map((unit, place) => startUnit(unit, partSeed(seed, place), fleetFolder, shiftMs));
  const script = beginScript(seed, units);

  const tick = () => {
    const nowMs = recordedEndMs + (clock() - begunMs) * speed + (endMs - recordedEndMs - shiftMs);
    script(nowMs);
    for (const unit of units) unit.writeUntil(nowMs);
  };
  const timer = setInterval(() => {
    try {
      tick();
    } catch (error) {
      clearInterval(timer);
      if (options.onError === undefined) throw error;
      options.onError(error);
    }
  }, tickMs);
  return { stop: () => clearInterval(timer) };
}

interface LiveUnit {
  readonly id: string;
  readonly recorder: Recorder;
  /** Writes the readings due at a moment of recorded time. */
  writeUntil(nowMs: number): void;
}

function startUnit(unit: DemoUnit, seed: number, fleetFolder: string, shiftMs: number): LiveUnit {
  const recorder = startDemoUnit(visitedUnit(unit));
  playRecordedDay(recorder);
  recorder.reseed(seed);
  const log = openLiveLog(unit, fleetFolder, shiftMs);
  return {
    id: unit.id,
    recorder,
    writeUntil(nowMs) {
      const samples = [];
      for (let i = 0; i < mostAtOnce && recorder.nextMs <= nowMs; i++) {
        const sample = recorder.next();
        if (sample !== undefined) samples.push(sample);
      }
      log.write(samples, recorder.nextMs);
    },
  };
}

/** Gives each unit its faults a while before they begin. */
function beginScript(seed: number, units: readonly LiveUnit[]): (nowMs: number) => void {
  const aheadMs = 60 * minute;
  const give = ({ unit: id, fault, stop }: LiveEvent) => {
    const recorder = units.find((unit) => unit.id === id)?.recorder;
    recorder?.addFault(fault);
    if (stop !== undefined) recorder?.addStop(stop);
  };
  for (const event of openingEvents) give(event);
  const later = laterEvents(seed);
  let event = later.next().value;
  return (nowMs) => {
    while (event.fault.fromMs <= nowMs + aheadMs) {
      give(event);
      event = later.next().value;
    }
  };
}
