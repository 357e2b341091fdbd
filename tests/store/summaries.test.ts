import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadUnit, saveUnits } from "../../src/store/checkpoints.ts";
import { inTransaction } from "../../src/store/outcome.ts";
import { pack, type SignalSummary, unpack } from "../../src/store/pack.ts";
import {
  dropOldSummaries,
  insertSummaries,
  levels,
  type SummaryRows,
  summariesOf,
} from "../../src/store/summaries.ts";
import { day, minute } from "../../src/terms/time.ts";
import { nthSave } from "./child.ts";
import { database, done, stateFolder } from "./workbench.ts";

const start = Date.UTC(2026, 4, 4, 3);

/** A signal over spans of time, from the mean of each; NaN for none. */
function around(signal: number, means: readonly number[]): SignalSummary {
  const of = (more: number) => Float32Array.from(means, (mean) => mean + more);
  return { signal, min: of(-0.1), mean: of(0), max: of(0.1) };
}

const rows = (fromMs: number, means: readonly number[], signal = 0): SummaryRows => ({
  stepMs: minute,
  fromMs,
  signals: [around(signal, means)],
});

describe("summaries of the past", () => {
  it("are packed and unpacked without loss, NaN and the failures of a current loop with them", () => {
    const columns = fc
      .integer({ min: 1, max: 150 })
      .chain((slots) =>
        fc.uniqueArray(
          fc.record({
            signal: fc.integer({ min: 0, max: 255 }),
            means: fc.array(fc.float(), { minLength: slots, maxLength: slots }),
          }),
          { selector: ({ signal }) => signal, maxLength: 20 },
        ),
      )
      .map((all) => all.map(({ signal, means }) => around(signal, means)));
    fc.assert(
      fc.property(columns, (summaries) => {
        expect(unpack(pack(summaries))).toEqual(summaries);
      }),
    );
  });

  it("are the same however they were handed over", async () => {
    const db = database(await stateFolder());
    const means = Array.from({ length: 150 }, (_, i) => 9 + (i % 7) / 100);
    let unit = 0;
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 149 }), { maxLength: 6 }), (given) => {
        unit++;
        const cuts = [0, ...given.sort((a, b) => a - b), 150];
        for (const [i, from] of cuts.slice(0, -1).entries()) {
          insertSummaries(db, `U-${unit}`, [rows(start + from * minute, means.slice(from, cuts[i + 1]))]);
        }
        const kept = done(summariesOf(db, `U-${unit}`, minute, start, start + 150 * minute));
        expect(kept).toEqual(rows(start, means));
      }),
      { numRuns: 25 },
    );
  });

  it("keep what is there where a minute had no reading, and join other signals", async () => {
    const db = database(await stateFolder());
    insertSummaries(db, "LM-01", [rows(start, [9, 9.1])]);
    insertSummaries(db, "LM-01", [rows(start, [Number.NaN, 9.2, 9.3]), rows(start + minute, [86], 3)]);
    const { signals } = done(summariesOf(db, "LM-01", minute, start, start + 4 * minute));
    expect(signals).toEqual([
      around(0, [9, 9.2, 9.3, Number.NaN]),
      around(3, [Number.NaN, 86, Number.NaN, Number.NaN]),
    ]);
  });

  it("are of the times asked for", async () => {
    const db = database(await stateFolder());
    insertSummaries(db, "LM-01", [rows(start, [1, 2, 3, 4])]);
    const means = (fromMs: number, toMs: number) => [
      ...(done(summariesOf(db, "LM-01", minute, fromMs, toMs)).signals[0]?.mean ?? []),
    ];
    expect(means(start + minute, start + 3 * minute)).toEqual([2, 3]);
    expect(means(start + 1, start + 2 * minute + 1)).toEqual([2, 3]);
    expect(means(start - 2 * minute, start + minute)).toEqual([Number.NaN, Number.NaN, 1]);
    expect(means(start + day, start + 2 * day)).toEqual([]);
    expect(means(start, start)).toEqual([]);
  });

  it("are stored with the unit's checkpoint", async () => {
    const db = database(await stateFolder());
    done(saveUnits(db, [{ ...nthSave("LM-01", 1), summaries: [rows(start, [9])] }]));
    expect(done(loadUnit(db, "LM-01"))?.wordRow).toBe(1);
    expect(done(summariesOf(db, "LM-01", minute, start, start + minute))).toEqual(rows(start, [9]));
  });

  it("go once they were kept for three days, thirty days, four hundred days", async () => {
    const db = database(await stateFolder());
    const nowMs = start + 500 * day;
    inTransaction(db, () => {
      for (const { stepMs } of levels) {
        for (let fromMs = start; fromMs < nowMs; fromMs += day) {
          insertSummaries(db, "LM-01", [{ stepMs, fromMs, signals: [around(0, [1])] }]);
        }
      }
    });
    done(dropOldSummaries(db, nowMs));
    const oldest = levels.map(({ stepMs }) => {
      const { signals } = done(summariesOf(db, "LM-01", stepMs, start, nowMs));
      return (nowMs - start - (signals[0]?.mean.indexOf(1) ?? 0) * stepMs) / day;
    });
    expect(oldest).toEqual([3, 30, expect.toSatisfy((days: number) => days >= 400 && days <= 404)]);
  });
});

describe("a thousand units over a year", () => {
  it("fit into 2 GB, even if no reading is like another", async () => {
    const db = database(await stateFolder());
    let seed = 1;
    const noise = (): number => {
      seed = (seed * 48_271) % 2_147_483_647;
      return seed / 2_147_483_647;
    };
    /** Loggers write few digits, a mean has many. */
    const signals = Array.from({ length: 8 }, (_, signal) => {
      const center = 10 ** (signal % 3);
      const digit = (): number => Math.round((center + noise()) * 100) / 100;
      return (slots: number): SignalSummary => ({
        signal,
        min: Float32Array.from({ length: slots }, digit),
        mean: Float32Array.from({ length: slots }, () => center + noise()),
        max: Float32Array.from({ length: slots }, digit),
      });
    });
    const pagesBefore = Number(db.prepare("PRAGMA page_count").get()?.page_count);
    inTransaction(db, () => {
      for (const { stepMs, packMs, keepMs } of levels) {
        const firstMs = Math.floor(start / packMs) * packMs;
        for (let fromMs = firstMs; fromMs <= firstMs + keepMs; fromMs += packMs) {
          insertSummaries(db, "LM-01", [
            { stepMs, fromMs, signals: signals.map((of) => of(packMs / stepMs)) },
          ]);
        }
      }
    });
    const pages = Number(db.prepare("PRAGMA page_count").get()?.page_count) - pagesBefore;
    expect(1000 * pages * 4096).toBeLessThan(2e9);
  });
});
