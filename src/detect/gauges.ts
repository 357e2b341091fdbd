import { type Features, operating, someState } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import type { Spoken } from "../fleet/display.ts";
import { channelIndex } from "../terms/channels.ts";
import { gauged, leastVacuumKPa, readGauges, readRows, settleMs } from "./gauge-deviations.ts";
import { type EvidenceItem, verdict } from "./rule.ts";

/**
 * The gauges of a running pump held against its clean running. The gauge stands between pump and generator,
 * so what restricts, opens or starves the pump moves vacuum, discharge pressure and current in its own
 * pattern. Source: where the head curve of a centrifugal pump meets the friction of its lines.
 */

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const discharge = channelIndex.discharge_pressure;

/** Deviations smaller than this many clean spreads are noise: the level's own is about half a spread. */
const noiseSpreads = 3;
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

/** Deviations without which a pattern cannot be there even in part, as shares; each where its gauge is measured. */
export interface LeastDeviation {
  readonly discharge?: number;
  readonly vacuum?: number;
}

/**
 * Judges each row of a running pump by its deviation; `ease` is 1 for the limits themselves, and 0.6 to ask
 * whether the pattern is still there in part: then the verdict holds. `least` is asked in part, too.
 */
export function judgeGauges(
  features: Features,
  from: number,
  to: number,
  met: Uint8Array,
  least: LeastDeviation,
  pattern: (deviation: Deviation, ease: number) => boolean,
): void {
  const { baseline, state, settledMs, unsteady } = features;
  if (baseline === null) {
    met.fill(verdict.hold, from, to);
    return;
  }
  if (!someState(features, operating.running, operating.unknown)) {
    met.fill(verdict.no, from, to);
    return;
  }
  readGauges(features, from, to);
  const calm =
    gauged.greatestDischarge < goneShare * (least.discharge ?? 0) ||
    gauged.greatestVacuum < goneShare * (least.vacuum ?? 0);
  if (calm && gauged.settled) {
    met.fill(verdict.no, from, to);
    return;
  }
  readRows(features, from, to);
  const { discharge: d, vacuum: v, current: a } = gauged;
  const now = startDeviation(features);
  for (let row = from; row < to; row++) {
    if (state[row] === operating.unknown) met[row] = verdict.hold;
    else if (state[row] !== operating.running) met[row] = verdict.no;
    else if (settledMs[row] < settleMs) met[row] = verdict.hold;
    else if (calm) met[row] = verdict.no;
    else {
      now.discharge = d[row];
      now.vacuum = v[row];
      now.current = a[row];
      now.dischargeWavers = unsteady[discharge][row];
      now.currentWavers = unsteady[current][row];
      now.vacuumWavers = unsteady[suction][row];
      if (pattern(now, 1)) met[row] = verdict.met;
      else met[row] = pattern(now, goneShare) ? verdict.hold : verdict.no;
    }
  }
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** A deviation to be filled row by row, with the noise of this unit's gauges. */
function startDeviation({ baseline }: Features): Writable<Deviation> {
  const share = (signal: number, of: number) =>
    (noiseSpreads * (baseline?.signals[signal]?.spread ?? Number.NaN)) / of;
  const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
  return {
    discharge: Number.NaN,
    vacuum: Number.NaN,
    current: Number.NaN,
    dischargeWavers: Number.NaN,
    currentWavers: Number.NaN,
    vacuumWavers: Number.NaN,
    dischargeNoise: share(discharge, clean(discharge)),
    vacuumNoise: share(suction, Math.max(-clean(suction), leastVacuumKPa)),
    currentNoise: share(current, clean(current)),
  };
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
