import { type Features, operating, someState } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import type { Spoken } from "../fleet/display.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute } from "../terms/time.ts";
import { type EvidenceItem, verdict } from "./rule.ts";

/**
 * The gauges of a running pump held against its clean running. The gauge stands between pump and generator,
 * so what restricts, opens or starves the pump moves vacuum, discharge pressure and current in its own
 * pattern. Source: where the head curve of a centrifugal pump meets the friction of its lines.
 */

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const discharge = channelIndex.discharge_pressure;

/** After prime the gauges settle for so long (house choice: the air left in the casing goes within a minute). */
const settleMs = 2 * minute;
/** Deviations smaller than this many clean spreads are noise: the level's own is about half a spread. */
const noiseSpreads = 3;
/** A vacuum smaller than this is not taken for a depth of its own, kPa: its shares are of this at least. */
const leastVacuumKPa = 8;
/** Below this part of its limits a deviation counts as gone. */
const goneShare = 0.6;

/** How far the gauges stand from clean: NaN where one is not measured. */
export interface Deviation {
  /** Discharge pressure: share of its clean value, up positive. */
  readonly discharge: number;
  /** Vacuum: share of its clean depth, deeper positive. */
  readonly vacuum: number;
  /** Motor current: share of its clean value, up positive. */
  readonly current: number;
  /** How many times their clean unsteadiness the gauges waver: the discharge's, the current's, the vacuum's. */
  readonly dischargeWavers: number;
  readonly currentWavers: number;
  readonly vacuumWavers: number;
  /** Shares that noise alone may reach. */
  readonly dischargeNoise: number;
  readonly vacuumNoise: number;
  readonly currentNoise: number;
}

/**
 * Judges each row of a running pump by its deviation; `ease` is 1 for the limits themselves, and 0.6 to ask
 * whether the pattern is still there in part: then the verdict holds.
 */
export function judgeGauges(
  features: Features,
  from: number,
  to: number,
  met: Uint8Array,
  pattern: (deviation: Deviation, ease: number) => boolean,
): void {
  const { baseline, state, settledMs } = features;
  if (baseline === null) {
    met.fill(verdict.hold, from, to);
    return;
  }
  if (!someState(features, operating.running, operating.unknown)) {
    met.fill(verdict.no, from, to);
    return;
  }
  const now = startDeviation(features);
  for (let row = from; row < to; row++) {
    if (state[row] === operating.unknown) met[row] = verdict.hold;
    else if (state[row] !== operating.running) met[row] = verdict.no;
    else if (settledMs[row] < settleMs) met[row] = verdict.hold;
    else {
      deviate(now, features, row);
      if (calm(now)) met[row] = verdict.no;
      else if (pattern(now, 1)) met[row] = verdict.met;
      else met[row] = pattern(now, goneShare) ? verdict.hold : verdict.no;
    }
  }
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

interface Gauged extends Writable<Deviation> {
  dischargeClean: number;
  suctionClean: number;
  currentClean: number;
  depthKPa: number;
}

function startDeviation({ baseline }: Features): Gauged {
  const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
  const spread = (signal: number) => baseline?.signals[signal]?.spread ?? Number.NaN;
  const depthKPa = Math.max(-clean(suction), leastVacuumKPa);
  return {
    dischargeClean: clean(discharge) > 0 ? clean(discharge) : Number.NaN,
    suctionClean: clean(suction),
    currentClean: clean(current) > 0 ? clean(current) : Number.NaN,
    depthKPa: Number.isNaN(clean(suction)) ? Number.NaN : depthKPa,
    discharge: Number.NaN,
    vacuum: Number.NaN,
    current: Number.NaN,
    dischargeWavers: Number.NaN,
    currentWavers: Number.NaN,
    vacuumWavers: Number.NaN,
    dischargeNoise: (noiseSpreads * spread(discharge)) / clean(discharge),
    vacuumNoise: (noiseSpreads * spread(suction)) / depthKPa,
    currentNoise: (noiseSpreads * spread(current)) / clean(current),
  };
}

function deviate(now: Gauged, { level, unsteady }: Features, row: number): void {
  now.discharge = level[discharge][row] / now.dischargeClean - 1;
  now.vacuum = (now.suctionClean - level[suction][row]) / now.depthKPa;
  now.current = level[current][row] / now.currentClean - 1;
  now.dischargeWavers = unsteady[discharge][row];
  now.currentWavers = unsteady[current][row];
  now.vacuumWavers = unsteady[suction][row];
}

/** Nothing has moved by as much as any of the patterns asks for at the least. */
function calm({ discharge: d, vacuum: v, dischargeNoise, vacuumNoise }: Deviation): boolean {
  const still = (x: number, noise: number) => Number.isNaN(x) || Math.abs(x) < Math.min(0.01, noise / 4);
  return still(d, dischargeNoise) && still(v, vacuumNoise);
}

/** A pump whose discharge pressure has fallen by more than this share moves no water to speak of (house choice). */
const flowStopped = 0.85;

/** Whether the pump still moves water: without it there is neither vapour, nor air on its way, nor a slow impeller to see. */
export function waterMoves({ discharge }: Deviation): boolean {
  return !(discharge <= -flowStopped);
}

/** Whether it has stopped to move water at one row, as far as the discharge gauge can tell. */
export function waterStopped({ baseline, level }: Features, row: number): boolean {
  const clean = centerOf(baseline, discharge) ?? Number.NaN;
  return level[discharge][row] / clean - 1 <= -flowStopped;
}

/** The evidence that every rule of the gauges carries. */
export const gaugeEvidence: readonly EvidenceItem[] = [
  { name: "discharge_pressure", unit: "kPa", against: "baseline" },
  { name: "suction_pressure", unit: "kPa", against: "baseline" },
  { name: "motor_current", unit: "A", against: "baseline" },
  { name: "discharge_unsteadiness", unit: "× clean" },
];

export function gaugeNumbers({ baseline, level, unsteady }: Features, row: number): readonly number[] {
  return [
    ...[discharge, suction, current].flatMap((signal) => [
      level[signal][row],
      centerOf(baseline, signal) ?? Number.NaN,
    ]),
    unsteady[discharge][row],
    Number.NaN,
  ];
}

/** What the gauges read, in words: only those that are measured. */
export function gaugeWords(numbers: readonly number[], { value }: Spoken): string {
  const [p, pClean, s, sClean, a, aClean] = numbers;
  const words = [
    moved("discharge pressure", p, pClean, (x) => value("discharge_pressure", x), "rose", "fell"),
    moved("the vacuum", -s, -sClean, (x) => value("suction_pressure", -x), "grew deeper", "grew shallower"),
    moved("the current", a, aClean, (x) => value("motor_current", x), "rose", "fell"),
  ].filter((text) => text !== undefined);
  const text = words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
  return text === "" ? text : text[0].toUpperCase() + text.slice(1);
}

function moved(
  what: string,
  now: number,
  clean: number,
  say: (x: number) => string,
  up: string,
  down: string,
): string | undefined {
  if (Number.isNaN(now) || Number.isNaN(clean)) return undefined;
  const verb = now > clean ? up : down;
  // Where both are said with the same digits nothing has moved that a person could see.
  if (say(now) === say(clean)) return `${what} stayed at ${say(clean)}`;
  return `${what} ${verb} from ${say(clean)} to ${say(now)}`;
}
