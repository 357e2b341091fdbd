import { randomUUID } from "node:crypto";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { Following } from "../../src/collector/following.ts";
import { eventsOf, startFollowing } from "../../src/collector/following.ts";
import { noteChange } from "../../src/collector/keep-units.ts";
import { type Keeper, startKeeper } from "../../src/collector/keeper.ts";
import { type Keeping, startKeeping } from "../../src/collector/keeping.ts";
import { play, playClock } from "../../src/collector/play.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import type { GroundFault } from "../../src/fleet/visit.ts";
import { insertSummaries, summariesOf } from "../../src/store/summaries.ts";
import { type ReadingBatch, rowsOf } from "../../src/terms/batch.ts";
import type { AlarmEvent } from "../../src/terms/events.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { fleetFile } from "../support/fleets.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { clean, hourClean, midnight, readings } from "../support/unit-days.ts";

const nowMs = midnight + 2 * hour;
const open: Keeping[] = [];
afterEach(() => {
  for (const keeping of open.splice(0)) keeping.close();
});

async function kept(folder: string): Promise<Keeping> {
  const asked = await startKeeping({ folder: join(folder, "state"), kind: "watch" });
  if (!("kept" in asked)) throw new Error("the state folder cannot be used");
  open.push(asked.kept);
  return asked.kept;
}

/** A keeper over one unit as it begins on a state folder, which is that of an earlier one where `keeping` is. */
function begun(
  folder: string,
  keeping: Keeping,
  yaml = "{ id: LM-01 }",
): { keeper: Keeper; unit: Following; events: AlarmEvent[] } {
  const fleet = fleetOf(fleetFile([yaml]), folder);
  const units = new Map<string, Following>();
  const events: AlarmEvent[] = [];
  const keeper = startKeeper(
    keeping,
    fleet,
    units,
    () => nowMs,
    (event) => events.push(event),
  );
  const [unit] = fleet.units;
  const following = startFollowing(unit, fleet, { timeMs: () => nowMs, why: "" }, keeper.restored(unit));
  units.set(unit.id, following);
  following.behind = false;
  return { keeper, unit: following, events };
}

const said = (step: ServiceRecord["step"], atMs: number, untilMs?: number) => ({
  kind: "service" as const,
  record: {
    id: randomUUID(),
    unit: "LM-01",
    work: "cleaning" as const,
    step,
    atMs,
    saidMs: nowMs,
    by: "Ben",
    ...(untilMs !== undefined && { untilMs }),
  },
});

describe("a service that somebody records", () => {
  it("tells of a ground-fault device that did not trip, over a restart too, until a later test trips", async () => {
    const folder = folderWith({ "logs/LM-01.csv": "" });
    const first = await kept(folder);
    const { keeper, unit } = begun(folder, first);
    const test = (atMs: number, groundFault: GroundFault) => {
      const { kind, record } = said("done", atMs);
      first.say({ kind, record: { ...record, visit: { groundFault } } });
      keeper.look();
    };
    test(nowMs - hour, "did not trip");
    expect(unit.found).toEqual({ found: { noTrip: { atMs: nowMs - hour, by: "Ben" } } });
    expect(begun(folder, first).unit.found).toEqual(unit.found);
    test(nowMs - minute, "tripped");
    expect(unit.found).toEqual({});
  });

  it("counts from the first reading on where nobody had collected yet", async () => {
    const folder = folderWith({ "logs/LM-01.csv": "" });
    const keeping = await kept(folder);
    expect(keeping.say(said("begin", midnight + minute, midnight + 8 * hour))).toBeNull();
    const { unit } = begun(folder, keeping);
    play(unit.player, readings([hourClean]), false);
    expect(unit.player.state.openServices.map(({ work }) => work)).toEqual(["cleaning"]);
  });

  it("for an earlier time is played also where the process dies before it could be", async () => {
    const folder = folderWith({ "logs/LM-01.csv": "" });
    const first = await kept(folder);
    const { keeper, unit } = begun(folder, first);
    playClock(unit.player, nowMs, []);
    first.say(said("begin", nowMs - hour, nowMs + hour));
    // Known, and kept as known; the clock's next look would have played it.
    keeper.look();
    first.say(said("done", nowMs - 90 * minute));
    keeper.look();
    first.close();
    open.length = 0;
    const again = begun(folder, await kept(folder));
    playClock(again.unit.player, nowMs, []);
    expect(again.unit.player.state.openServices).toHaveLength(1);
    expect(again.unit.player.state.upkeep.doneMs.cleaning).toBe(nowMs - 90 * minute);
  });

  it("is still known, with what was said, after another fleet file was taken up in the same process", async () => {
    const folder = folderWith({ "logs/LM-01.csv": "" });
    const keeping = await kept(folder);
    const before = begun(folder, keeping);
    keeping.say(said("begin", nowMs - 2 * hour, nowMs - hour));
    before.keeper.look();
    expect(before.keeper.reminders()).toHaveLength(1);
    before.keeper.close();
    // One that is over takes in nothing that its successor should have.
    keeping.say({
      kind: "word",
      word: {
        id: randomUUID(),
        atMs: nowMs,
        unit: "LM-01",
        alarm: "sensor-fault",
        action: "out-of-service",
        by: "Ann",
      },
    });
    expect(before.keeper.look()).toBe(false);
    const after = begun(folder, keeping);
    after.keeper.look();
    expect(after.keeper.reminders()).toEqual(before.keeper.reminders());
    expect(after.unit.responses["sensor-fault"]?.outOfService?.by).toBe("Ann");
  });
});

it("summaries that have been kept long enough are dropped from the database, once all stands on the screen", async () => {
  const folder = folderWith({ "logs/LM-01.csv": "" });
  const keeping = await kept(folder);
  const one = { signal: 0, min: Float32Array.of(1), mean: Float32Array.of(1), max: Float32Array.of(1) };
  const at = (fromMs: number) => ({ stepMs: minute, fromMs, signals: [one] }) as const;
  insertSummaries(keeping.db, "LM-01", [at(nowMs - 5 * day), at(nowMs - hour)]);
  const left = (fromMs: number) =>
    summariesOf(keeping.db, "LM-01", minute, fromMs, fromMs + minute).value?.signals.length;
  vi.useFakeTimers({ toFake: ["performance"] });
  try {
    const { keeper } = begun(folder, keeping);
    keeper.look();
    expect(left(nowMs - 5 * day)).toBe(1);
    vi.advanceTimersByTime(2 * minute);
    keeper.look();
    expect([left(nowMs - 5 * day), left(nowMs - hour)]).toEqual([0, 1]);
  } finally {
    vi.useRealTimers();
  }
});

it("what was told is not told again where the logs are read again and that is broken off", async () => {
  const folder = folderWith({ "logs/LM-01.csv": "" });
  const ozoneOn = readings([{ seconds: 3600, values: clean }]);
  const played = async (yaml: string, batch: ReadingBatch): Promise<number> => {
    const keeping = await kept(folder);
    const { keeper, unit } = begun(folder, keeping, yaml);
    const told = eventsOf(unit, play(unit.player, batch, false)).length;
    noteChange(unit);
    keeper.close();
    keeping.close();
    open.length = 0;
    return told;
  };
  const yaml = "{ id: LM-01, ozone: none }";
  const { rows } = ozoneOn;
  expect(await played(yaml, ozoneOn)).toBeGreaterThan(0);
  const otherwise = "{ id: LM-01, ozone: none, sample_interval: 10 s }";
  expect(await played(otherwise, rowsOf(ozoneOn, 0, 1))).toBe(0);
  expect(await played(otherwise, rowsOf(ozoneOn, 1, rows))).toBe(0);
});
