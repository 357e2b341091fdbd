import type { Compared } from "../score/compare.ts";
import type { Figures, Share } from "../score/figures.ts";
import { type PointCounts, pointRates } from "../score/points.ts";
import type { Score } from "../score/score.ts";
import { looksAtClock, type Told } from "../score/told.ts";
import { fourDigits } from "../terms/number.ts";
import { iso, second } from "../terms/time.ts";

const rounded = (x: number | null): number | null => (x === null ? null : fourDigits(x));

function shareJson(share: Share | null) {
  return (
    share && { value: fourDigits(share.value), low: fourDigits(share.low), high: fourDigits(share.high) }
  );
}

function figuresJson(of: Figures) {
  return {
    faults: of.faults,
    caught: of.caught,
    missed: of.missed,
    delay_median_s: of.delayMedianMs === null ? null : of.delayMedianMs / second,
    delay_95_s: of.delay95Ms === null ? null : of.delay95Ms / second,
    false: of.falseAlarms,
    false_by_priority: of.falseBy,
    false_per_unit_day: rounded(of.falsePerUnitDay),
    companions: of.companions,
    recall: shareJson(of.recall),
    precision: shareJson(of.precision),
    f1: shareJson(of.f1),
  };
}

function toldJson({ unit, alarm, priority, timeMs }: Told) {
  return { unit, alarm, priority, time: iso(timeMs) };
}

/** What `score --json` prints. */
export function scoreJson(score: Score) {
  const rows = (clock: boolean) =>
    score.alarms
      .filter(({ alarm }) => looksAtClock(alarm) === clock)
      .map(({ alarm, figures }) => ({ alarm, ...figuresJson(figures) }));
  return {
    unit_days: rounded(score.unitDays),
    all: figuresJson(score.total),
    alarms: rows(false),
    clock_alarms: rows(true),
    first_alarms: score.firstAlarms.map(({ fault, faults, first }) => ({
      fault,
      faults,
      first: Object.fromEntries([...first].map(([alarm, count]) => [alarm ?? "none", count])),
    })),
    first_alarm_right: shareJson(score.firstAlarmRight),
    missed: score.missed.map(({ fault: { unit, alarm, startMs, endMs }, alreadyActive, first }) => ({
      unit,
      alarm,
      start: iso(startMs),
      end: iso(endMs),
      already_active: alreadyActive,
      first,
    })),
    false_alarms: score.falseAlarms.map(({ raise }) => toldJson(raise)),
  };
}

/** What `score --compare --json` prints. */
export function comparedJson(compared: readonly Compared[], scores: readonly [Score, Score] | undefined) {
  return {
    alarms: compared.map(({ alarm, a, b, onlyA, onlyB }) => ({
      alarm,
      a,
      b,
      only_a: onlyA.map(toldJson),
      only_b: onlyB.map(toldJson),
    })),
    scores: scores === undefined ? null : { a: scoreJson(scores[0]), b: scoreJson(scores[1]) },
  };
}

/** What `score --label --json` prints of a unit, or of all together. */
export function pointJson(counts: PointCounts) {
  const { truePositive, falsePositive, falseNegative, trueNegative } = counts;
  const { f1, falseAlarmRate, missedAlarmRate } = pointRates(counts);
  return {
    true_positive: truePositive,
    false_positive: falsePositive,
    false_negative: falseNegative,
    true_negative: trueNegative,
    f1: rounded(f1),
    false_alarm_rate: rounded(falseAlarmRate),
    missed_alarm_rate: rounded(missedAlarmRate),
  };
}
