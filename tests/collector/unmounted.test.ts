import { appendFileSync, mkdirSync, renameSync, rmdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { type Collector, startCollector } from "../../src/collector/collector.ts";
import { type Keeping, startKeeping } from "../../src/collector/keeping.ts";
import { eventsIn } from "../../src/store/events.ts";
import { hour, minute, second } from "../../src/terms/time.ts";
import { fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { clean, hourClean, midnight, readings } from "../support/unit-days.ts";

const ids = ["LM-01", "LM-02"];
const until = (met: () => void) => vi.waitFor(met, { timeout: 30_000, interval: 20 });
let running: { readonly collector: Collector; readonly keeping: Keeping } | undefined;

async function stop(): Promise<void> {
  await running?.collector.close();
  running?.keeping.close();
  running = undefined;
}
afterEach(stop);

/** Two units whose loggers go on whatever becomes of the folder under its name `logs`. */
async function twoUnits() {
  const text = logText(readings([hourClean]));
  const folder = folderWith(Object.fromEntries(ids.map((id) => [`logs/${id}.csv`, text])));
  const logs = join(folder, "logs");
  const away = join(folder, "away");
  const fleet = { ...fleetOf(fleetFile(ids.map((id) => `{ id: ${id}, site: Heron Bend }`)), folder), logs };
  const state = join(folder, "state");
  let writtenMs = midnight + hour;
  const clock = { originMs: writtenMs, wallMs: 0, speed: 0 };
  const start = async () => {
    const asked = await startKeeping({ folder: state, kind: "collect" });
    if (!("kept" in asked)) throw new Error("the state folder cannot be used");
    const keeping = asked.kept;
    const collector = await startCollector(
      { fleet, stateFolder: state, clock },
      { onChange: () => undefined },
      { keeping, evenMs: () => clock.originMs },
    );
    running = { collector, keeping };
    await until(() => expect(collector.view().catchingUp).toBeUndefined());
  };
  await start();
  const units = () => running?.collector.view().units ?? [];
  return {
    logs,
    away,
    state,
    start,
    causes: () => running?.collector.view().commonCauses,
    units,
    told: () =>
      [...(running ? eventsIn(running.keeping.db, {}) : [])].map(({ line }) => {
        const { unit, alarm, event } = JSON.parse(line);
        return `${unit} ${alarm} ${event}`;
      }),
    /** Both loggers write a minute. */
    write(into: string) {
      const rows = logText(readings([{ seconds: 60, values: clean }], 10, writtenMs));
      for (const id of ids) appendFileSync(join(into, `${id}.csv`), rows.slice(rows.indexOf("\n") + 1));
      writtenMs += minute;
    },
    pass: () => {
      clock.originMs = writtenMs;
    },
    allRead: () =>
      until(() => {
        for (const { lastReadingMs, problem } of units()) {
          expect(problem).toBeNull();
          expect(lastReadingMs).toBe(writtenMs - 10 * second);
        }
      }),
  };
}

describe("a log folder that is unmounted and comes back", () => {
  it.each([
    ["gone", false, "there is no such log folder"],
    ["an empty folder in its place", true, "no log in"],
  ])(
    "(%s) makes units silent in their time and nothing else, and no row is lost or read twice",
    async (_, leavesEmpty, why) => {
      const { logs, away, start, units, causes, told, write, pass, allRead } = await twoUnits();
      write(logs);
      await allRead();
      pass();
      renameSync(logs, away);
      if (leavesEmpty) mkdirSync(logs);
      await until(() => {
        for (const { problem, unreadHowSoon } of units()) {
          expect(problem ?? "").toContain(why);
          expect(unreadHowSoon).toBe("On the next route");
        }
      });
      expect(told()).toEqual([]);
      expect(causes()).toMatchObject([
        { site: "Heron Bend", alarm: "cannot-be-read", units: ids, fromMs: midnight + hour + 50 * second },
      ]);
      write(away);
      write(away);
      pass();
      await until(() => expect(told()).toEqual(ids.map((id) => `${id} readings-stale raised`)));
      if (leavesEmpty) {
        await stop();
        await start();
        expect(told()).toHaveLength(2);
        rmdirSync(logs);
      }
      renameSync(away, logs);
      await allRead();
      write(logs);
      await allRead();
      pass();
      await until(() =>
        expect(told().toSorted()).toEqual(
          ids.flatMap((id) => [`${id} readings-stale cleared`, `${id} readings-stale raised`]),
        ),
      );
      for (const { log } of units()) {
        expect(log).toMatchObject({ rows: 360 + 4 * 6, repeats: 0, late: 0, rejected: 0 });
      }
    },
  );
});

it("units of a site that were never read stand under one likely cause, as of when that was found", async () => {
  const { logs, away, state, start, causes } = await twoUnits();
  await stop();
  rmSync(state, { recursive: true });
  renameSync(logs, away);
  await start();
  await until(() => expect(causes()).toMatchObject([{ alarm: "cannot-be-read", units: ids }]));
  expect(causes()?.[0]?.fromMs).toBe(midnight + hour);
});
