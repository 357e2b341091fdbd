import type { RunSchedule } from "../fleet/unit.ts";
import type { Channel } from "../terms/channels.ts";
import { day, hour, second } from "../terms/time.ts";
import { type Fault, faultLevels } from "./fault.ts";
import { startInstruments } from "./instrument-faults.ts";
import { stepPlant } from "./plant.ts";
import { settle } from "./plant-parts.ts";
import { type Plant, type Surroundings, stoppedPlant } from "./plant-state.ts";
import { type Random, randomFrom } from "./random.ts";
import { type Stop, scheduledToRun } from "./schedule.ts";
import { type Instruments, readInstruments, type Sample } from "./sensors.ts";
import type { Skid } from "./skid.ts";
import { airC, type Weather, waterC } from "./weather.ts";

/** A skid at its place with its logger. */
export interface Station {
  readonly skid: Skid;
  readonly runs: RunSchedule;
  readonly weather: Weather;
  readonly temperatureAt: "shell" | "winding";
  /** The logger loses its power with the pump. */
  readonly sharedOutlet: boolean;
  readonly intervalMs: number;
  /** Time of the first reading. */
  readonly firstMs: number;
  readonly faults: readonly Fault[];
  readonly stops: readonly Stop[];
  /** Sags of the supply, oldest first. Default none. */
  readonly sags?: readonly Sag[];
  /** How far the pond stands below its usual level, m; default 0. */
  readonly drawDownM?: (timeMs: number) => number;
  /** How fast instruments drift from what they were at the first reading, kPa a day. Default: not at all. */
  readonly driftKpaPerDay?: Readonly<Partial<Record<Channel, number>>>;
}

/** A short sag of the supply, to a share of the nameplate's voltage. */
export interface Sag {
  readonly fromMs: number;
  readonly toMs: number;
  readonly voltageRatio: number;
}

/** Plays one station forward, a reading after another. */
export interface Recorder {
  /** Time of the reading that `next` will give. */
  readonly nextMs: number;
  /** The skid as it stands. */
  readonly plant: Readonly<Plant>;
  /** Whether its schedule and the people about let it run. */
  readonly wanted: boolean;
  /** The next reading; undefined where the logger wrote none. */
  next(): Sample | undefined;
  /** From now on, chance comes from another seed; the plant stays as it is. */
  reseed(seed: number): void;
  addFault(fault: Fault): void;
  addStop(stop: Stop): void;
}

/** Longest step of the plant, s. */
const longestStepS = 5;
const warmUpMs = 6 * hour;

/** Starts a station, long since installed and in its usual state at its first reading. */
export function startRecorder(station: Station, seed: number): Recorder {
  const { skid, weather, intervalMs } = station;
  const steps = Math.ceil(intervalMs / (longestStepS * second));
  const stepS = intervalMs / second / steps;
  const faults = [...station.faults];
  const stops = [...station.stops];
  let random = randomFrom(seed);
  const wander = { head: 0, voltage: 0, front: 0 };
  const instruments = startInstruments();
  let wanted = false;
  const plant = stoppedPlant(
    station.firstMs - warmUpMs - intervalMs,
    airC(weather, station.firstMs - warmUpMs - intervalMs),
  );

  const advance = (): Surroundings => {
    stepWander(wander, intervalMs / second, weather, random);
    const frost = 25 * faultLevels(faults, plant.timeMs).frost;
    const air = airC(weather, plant.timeMs) + wander.front - frost;
    const water = waterC(weather, plant.timeMs);
    let around = surroundings(station, stops, plant, air, water, wander);
    for (let i = 0; i < steps; i++) {
      around = surroundings(station, stops, plant, air, water, wander);
      const levels = faultLevels(faults, plant.timeMs);
      stepPlant(plant, skid, around, levels, stepS, random);
    }
    return around;
  };
  for (let warmed = 0; warmed < warmUpMs; warmed += intervalMs) advance();

  return {
    plant,
    get wanted() {
      return wanted;
    },
    get nextMs() {
      return plant.timeMs + intervalMs;
    },
    next() {
      const around = advance();
      wanted = around.wanted;
      const levels = faultLevels(faults, plant.timeMs);
      const read = { temperatureAt: station.temperatureAt, driftKpa: driftKpa(station, plant.timeMs) };
      const sample = readInstruments(plant, skid, read, around, levels, random);
      const dead = levels["logger-silent"] > 0 || (station.sharedOutlet && levels["supply-lost"] > 0);
      return dead ? undefined : instruments(sample, faults, random);
    },
    reseed(other) {
      random = randomFrom(other);
    },
    addFault: (fault) => faults.push(fault),
    addStop: (stop) => stops.push(stop),
  };
}

function driftKpa({ driftKpaPerDay = {}, firstMs }: Station, timeMs: number): Instruments["driftKpa"] {
  const days = (timeMs - firstMs) / day;
  return Object.fromEntries(Object.entries(driftKpaPerDay).map(([channel, rate]) => [channel, rate * days]));
}

function surroundings(
  station: Station,
  stops: readonly Stop[],
  plant: Plant,
  air: number,
  water: number,
  wander: { readonly head: number; readonly voltage: number },
): Surroundings {
  const sag = station.sags?.find(({ fromMs, toMs }) => plant.timeMs >= fromMs && plant.timeMs < toMs);
  const stop = stops.find(({ fromMs, toMs }) => plant.timeMs >= fromMs && plant.timeMs < toMs);
  return {
    wanted: scheduledToRun(station.runs, stops, station.weather.localOffsetMs, plant.timeMs),
    airC: air,
    waterC: water,
    voltageRatio: (1 + wander.voltage) * (sag?.voltageRatio ?? 1),
    headRatio: 1 + wander.head,
    drawDownM: station.drawDownM?.(plant.timeMs) ?? 0,
    cleaned: stop?.cleaned,
  };
}

/** Slow wandering: head 0.4 % over minutes, supply voltage 0.5 % over a quarter of an hour. */
function stepWander(
  wander: { head: number; voltage: number; front: number },
  stepSeconds: number,
  { frontsK }: Weather,
  random: Random,
): void {
  wander.head = wandered(wander.head, 0.004, stepSeconds, 300, random);
  wander.voltage = wandered(wander.voltage, 0.005, stepSeconds, 900, random);
  if (frontsK !== undefined) wander.front = wandered(wander.front, frontsK, stepSeconds, 36 * 3600, random);
}

/** One step of an Ornstein–Uhlenbeck walk with a given spread and memory. */
function wandered(
  value: number,
  spread: number,
  stepSeconds: number,
  memoryS: number,
  random: Random,
): number {
  const kept = settle(1, 0, stepSeconds, memoryS);
  return value * kept + spread * Math.sqrt(1 - kept * kept) * random.normal();
}
