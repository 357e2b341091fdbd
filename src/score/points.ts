import type { Labels } from "./labels.ts";
import { looksAtClock, type Spell } from "./told.ts";

/** Rows by what their label says and whether an alarm was active. */
export interface PointCounts {
  readonly truePositive: number;
  readonly falsePositive: number;
  readonly falseNegative: number;
  readonly trueNegative: number;
}

/** Shares in 0…1; null where there is nothing to take a share of. */
export interface PointRates {
  readonly f1: number | null;
  /** Of the normal rows, those with an alarm. */
  readonly falseAlarmRate: number | null;
  /** Of the anomalous rows, those without. */
  readonly missedAlarmRate: number | null;
}

/**
 * Counts a unit's labelled rows, the first `skipRows` left out: a row is called anomalous where any alarm is
 * active on the unit, but for those that look at a clock.
 */
export function pointCounts(labels: Labels, spells: readonly Spell[], skipRows: number): PointCounts {
  const own = spells
    .filter(({ unit, alarm }) => unit === labels.unit && !looksAtClock(alarm))
    .sort((a, b) => a.fromMs - b.fromMs);
  const counts = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  let next = 0;
  let activeUntilMs = Number.NEGATIVE_INFINITY;
  for (const [row, timeMs] of labels.timeMs.entries()) {
    for (; next < own.length && own[next].fromMs <= timeMs; next++) {
      activeUntilMs = Math.max(activeUntilMs, own[next].toMs);
    }
    if (row < skipRows) continue;
    const called = timeMs < activeUntilMs;
    if (labels.anomalous[row]) counts[called ? "truePositive" : "falseNegative"]++;
    else counts[called ? "falsePositive" : "trueNegative"]++;
  }
  return counts;
}

/** The rows of all units together. */
export function pooled(all: readonly PointCounts[]): PointCounts {
  const sum = (key: keyof PointCounts) => all.reduce((total, counts) => total + counts[key], 0);
  return {
    truePositive: sum("truePositive"),
    falsePositive: sum("falsePositive"),
    falseNegative: sum("falseNegative"),
    trueNegative: sum("trueNegative"),
  };
}

/**
 * F1 = 2TP / (2TP + FP + FN), false alarm rate = FP / (FP + TN), missed alarm rate = FN / (FN + TP).
 * Source: README of the Skoltech Anomaly Benchmark v0.9 (2020), doi 10.34740/kaggle/dsv/1693952.
 */
export function pointRates(counts: PointCounts): PointRates {
  const { truePositive: tp, falsePositive: fp, falseNegative: fn, trueNegative: tn } = counts;
  const of = (part: number, whole: number) => (whole === 0 ? null : part / whole);
  return {
    f1: of(2 * tp, 2 * tp + fp + fn),
    falseAlarmRate: of(fp, fp + tn),
    missedAlarmRate: of(fn, fn + tp),
  };
}
