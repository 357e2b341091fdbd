import { rmSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { eventsWithin, readPast, summedPast } from "../../src/collector/past.ts";
import { drawLevels, pastLevels } from "../../src/collector/past-levels.ts";
import { shownPoints, startPoints } from "../../src/collector/past-points.ts";
import { startRunCount } from "../../src/collector/past-running.ts";
import { remember, startRecent } from "../../src/collector/recent.ts";
import { startSumming, sum } from "../../src/collector/summing.ts";
import { npshHereM } from "../../src/detect/npsh-here.ts";
import { signalsOf } from "../../src/fleet/signals.ts";
import { insertSummaries, type StepMs } from "../../src/store/summaries.ts";
import { day, hour, minute, second } from "../../src/terms/time.ts";
import { goTo, recorded } from "../replay/recorded.ts";
import { database, stateFolder } from "../store/workbench.ts";
import { clean, midnight, readings, unitOf } from "../support/unit-days.ts";

const signals = signalsOf(unitOf());

describe("a past that is drawn from what is summed up", () => {
  const summary = (stepMs: StepMs, fromMs: number, toMs: number, low: number, high: number) => {
    const column = (value: number) => new Float32Array((toMs - fromMs) / stepMs).fill(value);
    return {
      stepMs,
      fromMs,
      signals: [{ signal: 0, min: column(low), mean: column(low), max: column(high) }],
    };
  };

  it("takes each time from the finest that is kept of it, also after a restart", async () => {
    const db = database(await stateFolder());
    insertSummaries(db, "LM-01", [
      summary(minute, midnight + 4 * day, midnight + 7 * day, 9, 9),
      summary(10 * minute, midnight + 2 * day, midnight + 7 * day, 5, 12),
      summary(hour, midnight, midnight + 7 * day, 1, 40),
    ]);
    const sources = { unit: "LM-01", recent: startRecent(signals), db };
    const points = startPoints(midnight, midnight + 8 * day, 8);
    drawLevels(points, pastLevels(sources, midnight, midnight + 8 * day), Number.POSITIVE_INFINITY);
    const [current] = shownPoints(points, signals).signals;
    expect(current.high).toEqual([40, 40, 12, 12, 9, 9, 9, Number.NaN]);
    expect(current.low).toEqual([1, 1, 5, 5, 9, 9, 9, Number.NaN]);
    expect([...points.stepMs].map((ms) => ms / minute)).toEqual([60, 60, 10, 10, 1, 1, 1, 0]);
  });

  it("begins where the readings do, not where the hour does that they began in", () => {
    const summing = startSumming();
    const recent = startRecent(signals);
    const batch = readings([{ seconds: 7200, values: clean }], 10, midnight + 40 * minute);
    remember(recent, batch);
    sum(summing, batch, signals.length, midnight);
    const points = startPoints(midnight, midnight + 2 * hour, 12);
    const sources = { unit: "LM-01", recent, summing };
    drawLevels(points, pastLevels(sources, midnight, midnight + 2 * hour), Number.POSITIVE_INFINITY);
    expect([...(points.low[0] ?? [])].map((x) => !Number.isNaN(x))).toEqual([
      ...new Array(4).fill(false),
      ...new Array(8).fill(true),
    ]);
  });

  it("has what was read since the last keeping, to the minute and by the hour", () => {
    const recent = startRecent(signals);
    const summing = startSumming();
    const batch = readings([{ seconds: 7200, values: clean }], 10);
    sum(summing, batch, signals.length, midnight);
    const levels = pastLevels({ unit: "LM-01", recent, summing }, midnight, midnight + 2 * hour);
    expect(levels.map(({ low }) => low[0]?.some((x) => !Number.isNaN(x)))).toEqual([true, true, true]);
    remember(recent, batch);
    const points = startPoints(midnight, midnight + 2 * hour, 120);
    drawLevels(points, pastLevels({ unit: "LM-01", recent }, midnight, midnight + 2 * hour), Infinity);
    expect(points.low[0]?.every((x) => x > 0)).toBe(true);
  });
});

describe("a past that is read from the logs", async () => {
  const oneSecond = 1800;
  const { fleet, recording } = await recorded([
    {
      id: "LM-01",
      yaml: ", elevation: 120 m, pump: { npsh_required: 2.5 m }",
      batch: readings(
        [{ seconds: 3600, values: (s) => ({ ...clean(s), ...(s === oneSecond && { motor_current: 31 }) }) }],
        1,
      ),
    },
  ]);
  await goTo(recording, recording.toMs);
  const wanted = { fromMs: midnight + 1795 * second, toMs: midnight + 1805 * second, points: 10 };
  const of = recording.past("LM-01", recording.toMs);
  if (of === undefined) throw new Error("no such unit");
  const highs = (history: Awaited<ReturnType<typeof readPast>>) => history?.signals[0]?.high;

  it("shows each reading in its own second, where what is summed up shows the minute", async () => {
    const summed = summedPast(of, wanted);
    expect(summed.refinable).toBe(true);
    expect(summed.coarsestMs).toBe(minute);
    expect(highs(summed)).toEqual([...new Array(5).fill(expect.closeTo(9.5, 0)), ...new Array(5).fill(31)]);
    const read = await readPast(of, wanted, () => false);
    expect(highs(read)?.map((x) => x > 30)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((s) => s === 5));
    expect(read).toMatchObject({ coarsestMs: 0, refinable: false, lacking: [] });
  });

  it("has NPSH available where the site's elevation is known, least where the vacuum is deepest", () => {
    const { npsh, signals: shown } = summedPast(of, { ...wanted, points: 2, toMs: wanted.fromMs + hour / 2 });
    const suction = shown.find(({ channel }) => channel === "suction_pressure");
    const [unit] = fleet.units;
    expect(npsh?.low).toEqual(suction?.low.map((kpa) => npshHereM(unit, kpa, Number.NaN)));
    expect(npsh?.high).toEqual(suction?.high.map((kpa) => npshHereM(unit, kpa, Number.NaN)));
    expect(npsh?.low[0]).toBeLessThan(npsh?.high[0] ?? 0);
    expect(npsh?.requiredM).toBe(2.5);
  });

  it("is given up where nobody waits for it any more", async () => {
    expect(await readPast(of, wanted, () => true)).toBeUndefined();
  });

  it("knows nothing of what a replay has not come to", async () => {
    const played = recording.past("LM-01", midnight + 1798 * second);
    if (played === undefined) throw new Error("no such unit");
    const known = highs(await readPast(played, wanted, () => false))?.map((x) => !Number.isNaN(x));
    expect(known).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((s) => s <= 3));
  });

  it("says which log is gone, and keeps what is summed up of it", async () => {
    rmSync(join(fleet.logs, "LM-01.csv"));
    const read = await readPast(of, wanted, () => false);
    // The half hour before it is in another log, which is still there.
    const span = { fromMs: midnight + oneSecond * second, toMs: wanted.toMs - 1 };
    expect(read?.lacking).toEqual([{ file: "LM-01.csv", why: "the log is gone", ...span }]);
    expect(read?.coarsestMs).toBe(minute);
    expect(highs(read)?.slice(5)).toEqual(new Array(5).fill(31));
  });
});

describe("starts and hours run", () => {
  const counting = () => startRunCount(0, 10 * hour, { runningA: 2, stoppedA: 1.4, heldMs: 30 * second });

  it("are exact where every span tells whether the motor ran", () => {
    const count = counting();
    const amps = [9, 9, 0, 0, 9, 0, 9, 9];
    for (const [i, a] of amps.entries()) count.take(i * hour, (i + 1) * hour, a, a);
    expect(count.view()).toEqual({
      leastMs: 5 * hour,
      mostMs: 5 * hour,
      knownMs: 8 * hour,
      starts: 2,
      startsAtLeast: false,
    });
  });

  it("are bounds where a span has both running and standing in it", () => {
    const count = counting();
    const spans = [
      [9, 9],
      [0, 9],
      [9, 9],
      [0, 0],
      [0, 9],
      [0, 0],
    ] as const;
    for (const [i, [least, most]] of spans.entries()) count.take(i * hour, (i + 1) * hour, least, most);
    expect(count.view()).toEqual({
      leastMs: 2 * hour,
      mostMs: 4 * hour,
      knownMs: 6 * hour,
      starts: 2,
      startsAtLeast: true,
    });
  });

  it("count a start once where a span tells only that it was within", () => {
    const count = counting();
    const spans = [
      [0, 0],
      [0, 9],
      [9, 9],
    ] as const;
    for (const [i, [least, most]] of spans.entries()) count.take(i * hour, (i + 1) * hour, least, most);
    expect(count.view()).toMatchObject({ starts: 1, startsAtLeast: true });
  });

  it("are not told of a gap in the readings", () => {
    const count = counting();
    count.take(0, hour, 0, 0);
    count.take(3 * hour, 4 * hour, 9, 9);
    expect(count.view()).toMatchObject({ starts: 0, knownMs: 2 * hour });
  });
});

it("an alarm that stood when the shown time began is among its events, one that was over is not", () => {
  const event = (hours: number, alarm: "cavitation" | "lost-prime", kind: "raised" | "cleared") => ({
    timeMs: midnight + hours * hour,
    alarm,
    event: kind,
  });
  const within = eventsWithin(
    [
      event(1, "cavitation", "raised"),
      event(2, "lost-prime", "raised"),
      event(3, "lost-prime", "cleared"),
      event(6, "cavitation", "cleared"),
    ],
    midnight + 4 * hour,
    midnight + 5 * hour,
  );
  expect(within).toEqual([event(1, "cavitation", "raised")]);
});
