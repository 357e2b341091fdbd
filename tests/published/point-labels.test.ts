import { describe, expect, it } from "vitest";
import { readLabels } from "../../src/score/labels.ts";
import { pointCounts, pointRates, pooled } from "../../src/score/points.ts";
import { fleetOf } from "../support/played.ts";
import { experiments, readExperiment, skabFolder, skabIsThere } from "../support/skab.ts";

/**
 * Source: README and files of the Skoltech Anomaly Benchmark, SKAB v0.9 (2020), doi 10.34740/kaggle/dsv/1693952.
 * Of each file the first 400 rows may be learned from; the rest are judged, pooled over the files.
 */

/** Rows to be judged in all 34 files, counted in them. */
const anomalousRows = 12_771;
const normalRows = 11_030;

describe("F1 of the published leaderboard (SKAB v0.9)", () => {
  // Its LSTM-VAE and MSCRED rows do not agree with themselves (0.56 against 0.588, 0.36 against 0.348).
  it.each([
    ["convolutional autoencoder", 0.78, 13.55, 28.02],
    ["MSET", 0.78, 39.73, 14.13],
    ["T² + Q", 0.76, 26.62, 24.92],
    ["LSTM autoencoder", 0.74, 29.96, 25.92],
    ["T²", 0.66, 19.21, 42.6],
    ["LSTM", 0.54, 12.54, 59.53],
    ["autoencoder", 0.39, 2.59, 75.15],
    ["isolation forest", 0.29, 2.56, 82.89],
  ])("of %s follows from its false and missed alarm rates", (_, f1, falsePercent, missedPercent) => {
    const missed = (missedPercent / 100) * anomalousRows;
    const wrong = (falsePercent / 100) * normalRows;
    const rates = pointRates({
      truePositive: anomalousRows - missed,
      falsePositive: wrong,
      falseNegative: missed,
      trueNegative: normalRows - wrong,
    });
    // The table has two decimals, and its LSTM row is a little past them (0.5349).
    expect(Math.abs((rates.f1 ?? 0) - f1)).toBeLessThan(0.0052);
    expect(rates.falseAlarmRate).toBeCloseTo(falsePercent / 100, 12);
    expect(rates.missedAlarmRate).toBeCloseTo(missedPercent / 100, 12);
  });

  it("of calling every row anomalous is 0.698", () => {
    const counts = { truePositive: anomalousRows, falsePositive: normalRows };
    expect(pointRates({ ...counts, falseNegative: 0, trueNegative: 0 }).f1).toBeCloseTo(0.698, 3);
  });
});

const where = skabIsThere
  ? "the labels of the open pump experiments (SKAB v0.9)"
  : `the labels of the open pump experiments (SKAB v0.9) are SKIPPED: there is no ${skabFolder}`;

describe.skipIf(!skabIsThere)(where, async () => {
  const units = experiments.map(
    (name) =>
      `  - { id: ${name.replace("/", "-")}, log: ${name}.csv, columns: { time: datetime, motor_current: { column: Current, unit: A } } }\n`,
  );
  const fleet = fleetOf(`timezone: UTC\nunits:\n${units.join("")}`, skabFolder);
  const read = skabIsThere ? await readLabels({ ...fleet, logs: skabFolder }, "Anomaly") : { labels: [] };
  const labels = "labels" in read ? read.labels : [];

  it("are those in the files: 401 of the 1147 rows of valve1/0, and all rows of all files", () => {
    expect(read).not.toHaveProperty("problems");
    const first = labels.find(({ unit }) => unit === "valve1-0");
    expect([first?.timeMs.length, first?.anomalous.filter(Boolean).length]).toEqual([1147, 401]);
    for (const [i, name] of experiments.entries()) {
      const { timeMs, columns } = readExperiment(name);
      expect(labels[i].timeMs).toEqual(timeMs);
      expect(labels[i].anomalous).toEqual(columns.anomaly.map((label) => label === 1));
    }
  });

  it("give a detector that calls every row anomalous the F1 of their share of anomalous rows", () => {
    const always = labels.map(({ unit }) => ({
      unit,
      alarm: "lost-prime" as const,
      fromMs: 0,
      toMs: Number.POSITIVE_INFINITY,
    }));
    const counts = pooled(labels.map((own) => pointCounts(own, always, 400)));
    const judged = experiments.flatMap((name) => readExperiment(name).columns.anomaly.slice(400));
    const prevalence = judged.filter((label) => label === 1).length / judged.length;
    expect(counts.truePositive + counts.falsePositive).toBe(judged.length);
    const { f1, falseAlarmRate, missedAlarmRate } = pointRates(counts);
    expect(f1).toBeCloseTo((2 * prevalence) / (1 + prevalence), 12);
    expect({ falseAlarmRate, missedAlarmRate }).toEqual({ falseAlarmRate: 1, missedAlarmRate: 0 });
    // Of all 34 files 0.698; these seventeen come near it.
    expect(f1).toBeCloseTo(0.696, 3);
  });
});
