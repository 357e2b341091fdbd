import type { Unit } from "../fleet/unit.ts";
import { resolutionOf } from "../statistics/resolution.ts";
import { robustLocationScale } from "../statistics/robust.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute } from "../terms/time.ts";
import {
  type Blocks,
  blocksOfWindow,
  concludeBlocks,
  dropOlderBlocks,
  fillBlock,
  startBlocks,
} from "./blocks.ts";
import type { Baseline, BaselineSignal } from "./features.ts";
import { waterPressureKPa } from "./operating.ts";

/** Running settles for this long after a start before it may count as steady (common practice). */
const settledMs = 10 * minute;
/** Length of the first steady running that makes a provisional baseline. */
const learnForMs = 30 * minute;
const learnBlockMs = learnForMs / blocksOfWindow;
const fewestReadings = 20;
/** A longer step between readings is a gap, and counts as no more running than this. */
const longestStepMs = 2 * minute;
/** A window keeps at most this many readings, evenly spaced, so that its memory is bounded. */
const mostReadings = 360;
/** Halves of a steady window agree within this part of their value. */
const steadyFraction = 0.03;
/** Ozone counts as cycling when it went off and came back this often in the window. */
const fewestOzoneSpells = 2;

const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;
const ozone = channelIndex.ozone;

/** Readings gathered for a baseline; plain data. */
export interface Learning {
  timesMs: number[];
  /** How much steady running the gathered readings span, without the stops between them, ms. */
  runMs: number;
  /** The last reading that counted, while the run it belongs to goes on. */
  lastMs: number | null;
  /** A list a signal, as long as `timesMs`; null for a missing value. */
  values: (number | null)[][];
  blocks: Blocks;
  ozoneOffSinceMs: number | null;
  ozoneSpells: number;
  longestOzoneSpellMs: number;
}

export function startLearning(signals: number): Learning {
  return {
    timesMs: [],
    runMs: 0,
    lastMs: null,
    values: Array.from({ length: signals }, () => []),
    blocks: startBlocks(signals),
    ozoneOffSinceMs: null,
    ozoneSpells: 0,
    longestOzoneSpellMs: 0,
  };
}

/** What the learner needs of a reading. `settledForMs`: how long the motor has run with water moving. */
export interface LearningRow {
  readonly timeMs: number;
  readonly running: boolean;
  readonly waterMoving: boolean;
  readonly settledForMs: number;
  value(signal: number): number;
}

/**
 * Takes in one reading; returns the baseline once its window is complete, else null. A `window`
 * that the fleet file names takes all running in it and is confirmed; otherwise the first steady running
 * counts and is provisional. Running without pressure, or still changing, is not taken for clean.
 */
export function learn(learning: Learning, row: LearningRow, window: Unit["baseline"]): Baseline | null {
  if (window) {
    if (row.timeMs >= window.fromMs + window.forMs) {
      const baseline = conclude(learning, true, window.forMs / blocksOfWindow);
      if (baseline === null) clear(learning);
      return baseline;
    }
    if (row.timeMs >= window.fromMs && row.running) {
      gather(learning, row, window.forMs / mostReadings);
      const block = Math.floor(((row.timeMs - window.fromMs) * blocksOfWindow) / window.forMs);
      fillBlock(learning.blocks, block, row.value);
    }
    return null;
  }
  if (!row.running || !row.waterMoving) {
    learning.ozoneOffSinceMs = null;
    learning.lastMs = null;
    return null;
  }
  if (row.settledForMs < settledMs) return null;
  if (learning.lastMs !== null) learning.runMs += Math.min(row.timeMs - learning.lastMs, longestStepMs);
  learning.lastMs = row.timeMs;
  gather(learning, row, learnForMs / mostReadings);
  fillBlock(learning.blocks, Math.floor(learning.runMs / learnBlockMs), row.value);
  if (learning.runMs < learnForMs || learning.timesMs.length < fewestReadings) return null;
  if (isSteady(learning)) return conclude(learning, false, learnBlockMs);
  dropFirstHalf(learning);
  return null;
}

function gather(learning: Learning, row: LearningRow, spacingMs: number): void {
  watchOzone(learning, row);
  const last = learning.timesMs[learning.timesMs.length - 1];
  if (last !== undefined && row.timeMs - last < spacingMs) return;
  learning.timesMs.push(row.timeMs);
  for (const [signal, list] of learning.values.entries()) {
    const x = row.value(signal);
    list.push(Number.isNaN(x) ? null : x);
  }
}

function watchOzone(learning: Learning, row: LearningRow): void {
  const state = row.value(ozone);
  if (state === 0) {
    learning.ozoneOffSinceMs ??= row.timeMs;
  } else if (state === 1 && learning.ozoneOffSinceMs !== null) {
    learning.ozoneSpells++;
    learning.longestOzoneSpellMs = Math.max(
      learning.longestOzoneSpellMs,
      row.timeMs - learning.ozoneOffSinceMs,
    );
    learning.ozoneOffSinceMs = null;
  }
}

function present(list: readonly (number | null)[]): number[] {
  return list.filter((x) => x !== null);
}

function isSteady(learning: Learning): boolean {
  const half = learning.timesMs.length >> 1;
  for (const signal of [current, discharge]) {
    const list = learning.values[signal] ?? [];
    const early = present(list.slice(0, half));
    const late = present(list.slice(half));
    if (early.length < fewestReadings / 2 || late.length < fewestReadings / 2) continue;
    const a = robustLocationScale(early);
    const b = robustLocationScale(late);
    const noise = (3 * Math.max(a.spread, b.spread)) / Math.sqrt(half);
    if (Math.abs(a.center - b.center) > Math.max(steadyFraction * Math.abs(a.center), noise)) return false;
  }
  const pressures = present(learning.values[discharge] ?? []);
  return pressures.length === 0 || robustLocationScale(pressures).center >= waterPressureKPa;
}

function conclude(learning: Learning, confirmed: boolean, blockMs: number): Baseline | null {
  const { timesMs } = learning;
  const fromMs = timesMs[0];
  const toMs = timesMs[timesMs.length - 1];
  if (fromMs === undefined || toMs === undefined || timesMs.length < fewestReadings) return null;
  return {
    fromMs,
    toMs,
    readings: timesMs.length,
    confirmed,
    signals: learning.values.map((list): BaselineSignal | null => {
      const numbers = present(list);
      return numbers.length < fewestReadings ? null : cleanSignal(numbers);
    }),
    together: concludeBlocks(learning.blocks, blockMs),
    ozoneOffSpellMs: learning.ozoneSpells >= fewestOzoneSpells ? learning.longestOzoneSpellMs : null,
  };
}

/**
 * Centre and spread of a clean signal. A spread is at least half of what the instrument can resolve and a five
 * hundredth of the value: what flickers by one digit is as steady as can be told (house choice).
 */
function cleanSignal(numbers: readonly number[]): BaselineSignal {
  const { center, spread } = robustLocationScale(numbers);
  return { center, spread: Math.max(spread, resolutionOf(numbers) / 2, Math.abs(center) / 500) };
}

function dropFirstHalf(learning: Learning): void {
  const half = learning.timesMs.length >> 1;
  learning.timesMs.splice(0, half);
  learning.runMs /= 2;
  for (const list of learning.values) list.splice(0, half);
  dropOlderBlocks(learning.blocks, Math.floor(learning.runMs / learnBlockMs));
}

function clear(learning: Learning): void {
  learning.timesMs.length = 0;
  learning.runMs = 0;
  for (const list of learning.values) list.length = 0;
  learning.blocks = startBlocks(learning.values.length);
}
