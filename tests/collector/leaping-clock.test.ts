import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { type Collector, startCollector } from "../../src/collector/collector.ts";
import { type Keeping, startKeeping } from "../../src/collector/keeping.ts";
import { eventsIn } from "../../src/store/events.ts";
import { hour, second } from "../../src/terms/time.ts";
import { dry, fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { but, clean, hourClean, midnight, readings, type Stretch } from "../support/unit-days.ts";

const cleanUps: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanUp of cleanUps.splice(0).reverse()) await cleanUp();
});

/** A unit whose logger writes the right time, every 10 s from 01:00 on, and a collector whose clock is off by `off`. */
async function followedByOtherClock() {
  const folder = folderWith({ "logs/LM-01.csv": logText(readings([hourClean])) });
  const fleet = { ...fleetOf(fleetFile(["{ id: LM-01 }"]), folder), logs: join(folder, "logs") };
  const stateFolder = join(folder, "state");
  let trueMs = midnight + hour;
  const clock = { originMs: trueMs, wallMs: 0, speed: 0 };
  let started: { collector: Collector; keeping: Keeping } | undefined;
  const until = (met: () => void) => vi.waitFor(met, { timeout: 30_000, interval: 20 });
  const stop = async () => {
    await started?.collector.close();
    started?.keeping.close();
    started = undefined;
  };
  cleanUps.push(stop);
  const running = () => {
    if (started === undefined) throw new Error("nobody collects");
    return started;
  };
  const start = async () => {
    const asked = await startKeeping({ folder: stateFolder, kind: "collect" });
    if (!("kept" in asked)) throw new Error("the state folder cannot be used");
    const keeping = asked.kept;
    const listener = { onChange: () => undefined };
    const around = { keeping, evenMs: () => trueMs };
    started = { keeping, collector: await startCollector({ fleet, stateFolder, clock }, listener, around) };
    await until(() => expect(running().collector.view().catchingUp).toBeUndefined());
  };
  await start();
  return {
    start,
    stop,
    until,
    view: () => running().collector.view(),
    unit: () => running().collector.view().units[0],
    told: () => [...eventsIn(running().keeping.db, {})].map(({ line }) => JSON.parse(line)),
    /** Puts the clock to another time than that which went by. */
    leap: (byMs: number) => {
      clock.originMs += byMs;
    },
    pass: (ms: number) => {
      trueMs += ms;
      clock.originMs += ms;
    },
    /** Writes readings for some seconds, and waits until they are read. */
    async write(seconds: number, values: Stretch["values"] = clean) {
      for (let s = 0; s < seconds; s += 10) {
        const rows = logText(readings([{ seconds: 10, values }], 10, trueMs));
        appendFileSync(join(folder, "logs", "LM-01.csv"), rows.slice(rows.indexOf("\n") + 1));
        trueMs += 10 * second;
        clock.originMs += 10 * second;
        await until(() =>
          expect(running().collector.view().units[0].lastReadingMs).toBe(trueMs - 10 * second),
        );
      }
    },
  };
}

/** The collector looks at its clock each second. */
const twoLooks = () => new Promise((resolve) => setTimeout(resolve, 2100));

describe("the collector's clock leaps by hours while logs are followed", () => {
  it("forward, or the computer slept: no unit is called silent before its readings could come, and then in its time", async () => {
    const { leap, pass, until, unit, view, told, write } = await followedByOtherClock();
    leap(3 * hour);
    await until(() =>
      expect(view().notices[0]).toMatch(/^the clock of this computer leapt forward by 3 h to /),
    );
    await twoLooks();
    expect(told()).toEqual([]);
    await write(30);
    await twoLooks();
    expect(told()).toEqual([]);
    leap(-3 * hour);
    await write(10);
    leap(3 * hour);
    await until(() => expect(view().notices[0]).toContain("forward"));
    pass(61 * second);
    await until(() => expect(unit().alarms.map(({ alarm }) => alarm)).toEqual(["readings-stale"]));
    expect(told()).toMatchObject([{ alarm: "readings-stale", event: "raised" }]);
  });

  it("back and right again: every reading counts, over a restart too, and what follows from them is told once", async () => {
    const { leap, until, view, unit, told, write, start, stop } = await followedByOtherClock();
    leap(-3 * hour);
    await until(() =>
      expect(view().notices[0]).toMatch(/^the clock of this computer was put back by 3 h to /),
    );
    await write(60, but(dry));
    await until(() => expect(unit().alarms.map(({ alarm }) => alarm)).toContain("lost-prime"));
    await stop();
    await start();
    await write(30, but(dry));
    leap(3 * hour);
    await write(120);
    await until(() => expect(unit().alarms.filter(({ state }) => state.startsWith("active"))).toEqual([]));
    expect(unit().log).toMatchObject({ rows: 381, rejected: 0, late: 0 });
    expect(
      told()
        .map(({ alarm, event }) => `${alarm} ${event}`)
        .sort(),
    ).toEqual(["clock-fault cleared", "clock-fault raised", "lost-prime cleared", "lost-prime raised"]);
    const seqs = told().map(({ seq }) => seq);
    expect(new Set(seqs).size).toBe(seqs.length);
  });
});
