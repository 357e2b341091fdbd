import { type ChildProcess, spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { once } from "node:events";
import { appendFileSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { afterEach, describe, expect, it, vi } from "vitest";
import { attach } from "../../src/collector/attach.ts";
import { wallClock } from "../../src/collector/clock.ts";
import type { FleetView } from "../../src/collector/fleet-view.ts";
import type { Said } from "../../src/collector/keeping.ts";
import type { OpenConsole } from "../../src/collector/open.ts";
import { loadFleet } from "../../src/commands/load-fleet.ts";
import { readDatabase } from "../../src/store/database.ts";
import { eventsIn } from "../../src/store/events.ts";
import { lastCollector } from "../../src/store/lock.ts";
import { called } from "../support/called.ts";

// The thread of a console runs the built program.
const built = new URL("../../dist/collector/open.js", import.meta.url).href;
const { openConsole } = (await import(built)) as typeof import("../../src/collector/open.ts");
const program = join(import.meta.dirname, "../../dist/launch.js");

const cleanUps: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanUp of cleanUps.splice(0).reverse()) await cleanUp();
});

/** A unit whose ozone is on although it must not be: an alarm that any reading raises. */
function folderWithAlarm(): { fleet: string; state: string; log: string } {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-consoles-"));
  cleanUps.push(() => rmSync(folder, { recursive: true, force: true }));
  mkdirSync(join(folder, "logs"));
  const log = join(folder, "logs", "LM-01.csv");
  const rows = Array.from({ length: 30 }, (_, row) => {
    const time = new Date(Date.now() - (30 - row) * 10_000).toISOString();
    return `${time},9.1,45,-12,86,30,on`;
  });
  writeFileSync(
    log,
    `time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone\n${rows.join("\n")}\n`,
  );
  const fleet = join(folder, "fleet.yaml");
  writeFileSync(fleet, "fleet: Larkmoor ponds\nlogs: logs\nunits:\n  - { id: LM-01, ozone: none }\n");
  return { fleet, state: join(folder, "state"), log };
}

async function collector(
  fleet: string,
  state: string,
): Promise<{ child: ChildProcess; lines: () => string }> {
  const child = spawn(process.execPath, [program, "collect", fleet, "--state", state]);
  cleanUps.push(() => child.kill("SIGKILL"));
  let text = "";
  child.stdout?.on("data", (piece) => {
    text += piece;
  });
  await vi.waitFor(() => expect(text).toContain("up to now"), { timeout: 30_000, interval: 20 });
  return { child, lines: () => text };
}

async function console_(fleetPath: string, state: string): Promise<OpenConsole> {
  const { fleet } = await loadFleet(fleetPath);
  const opened = await openConsole({
    fleet,
    stateFolder: state,
    clock: wallClock,
    keep: { folder: state, kind: "watch" },
  });
  cleanUps.push(() => opened.close());
  return opened;
}

/** Adds a way to notify to a fleet file. */
function notifies(fleet: string): void {
  appendFileSync(fleet, "notify: { ways: { phone: { command: [true] } } }\n");
}

const acknowledge = (view: FleetView, by: string): Said[] =>
  view.units[0].alarms.map(({ alarm, raisedMs }) => ({
    kind: "word",
    word: { id: randomUUID(), atMs: Date.now(), unit: "LM-01", alarm, action: "acknowledge", by, raisedMs },
  }));

/** A console takes over within 3 s; a machine that is busy with other tests is given twice that. */
const takeOverMs = 6000;
const within = (timeout: number, met: () => void) => vi.waitFor(met, { timeout, interval: 20 });

describe("consoles and a collector on one state folder", { timeout: 40_000 }, () => {
  it("see each other's words; of two who acknowledge at once, the first did", async () => {
    const { fleet, state } = folderWithAlarm();
    const { child } = await collector(fleet, state);
    const [ann, ben] = [await console_(fleet, state), await console_(fleet, state)];
    expect(ann.current().collector).toMatchObject({ pid: child.pid, kind: "collect" });
    expect(ann.current().attached).toBe(true);
    await ann.viewWhere(({ units }) => units[0].alarms.length > 0);
    await ben.viewWhere(({ units }) => units[0].alarms.length > 0);
    const both = await Promise.all([
      ann.say(acknowledge(ann.current(), "Ann")),
      ben.say(acknowledge(ben.current(), "Ben")),
    ]);
    expect(both).toEqual([null, null]);
    const answers = () => [ann, ben].map((each) => each.current().units[0].alarms[0].acknowledged?.by);
    await within(takeOverMs, () => expect(answers()[0]).toBeDefined());
    await within(takeOverMs, () => expect(new Set(answers()).size).toBe(1));
  });

  it("lose no alarm out of sight while they take over, of more units than fill a screen", async () => {
    const { fleet, state } = folderWithAlarm();
    const others = Array.from({ length: 101 }, (_, n) => `  - { id: OP-${n} }\n`).join("");
    writeFileSync(
      fleet,
      `fleet: Larkmoor ponds\nlogs: logs\nunits:\n${others}  - { id: LM-01, ozone: none }\n`,
    );
    const { child } = await collector(fleet, state);
    const ann = await console_(fleet, state);
    await ann.viewWhere(({ units }) => units[101].alarms.length > 0);
    const alarms: number[] = [];
    ann.subscribe(() => alarms.push(ann.current().units[101].alarms.length));
    child.kill("SIGTERM");
    await within(takeOverMs, () => expect(ann.current().collector?.pid).toBe(process.pid));
    await ann.viewWhere(({ catchingUp }) => !catchingUp);
    expect(alarms).not.toContain(0);
  });

  it("take over where the collector is killed, know what was said, and go on following", async () => {
    const { fleet, state, log } = folderWithAlarm();
    const { child } = await collector(fleet, state);
    const ann = await console_(fleet, state);
    await ann.viewWhere(({ units }) => units[0].alarms.length > 0);
    await ann.say(acknowledge(ann.current(), "Ann"));
    await within(takeOverMs, () =>
      expect(ann.current().units[0].alarms[0].state).toBe("active-acknowledged"),
    );
    child.kill("SIGKILL");
    await within(takeOverMs, () => expect(ann.current().collector?.pid).toBe(process.pid));
    await within(takeOverMs, () => expect(ann.current().units[0].alarms[0]?.acknowledged?.by).toBe("Ann"));
    const time = new Date().toISOString();
    appendFileSync(log, `${time},9.2,45,-12,86,30,on\n`);
    await within(takeOverMs, () => expect(ann.current().units[0].lastReadingMs).toBe(Date.parse(time)));
    expect(ann.current().notices).toEqual([]);
  });

  it("say that nobody is notified until a collect runs, which check says too", async () => {
    const { fleet, state } = folderWithAlarm();
    notifies(fleet);
    const check = async () => (await called(["check", fleet, "--state", state])).stdout;
    const none = "! nobody is notified: no `collect` runs";
    expect(await check()).toContain(`${none}\n`);
    const ann = await console_(fleet, state);
    const beganMs = ann.current().collector?.sinceMs;
    expect(ann.current().unnotified).toEqual({ sinceMs: beganMs });
    expect(await check()).toContain(`${none}, since `);
    const { child } = await collector(fleet, state);
    await within(takeOverMs, () => expect(ann.current().collector?.pid).toBe(child.pid));
    expect(ann.current().unnotified).toBeUndefined();
    expect(await check()).not.toContain("nobody is notified");
  });

  it("let go while set aside, so that another takes over, and attach to that one afterwards", async () => {
    const { fleet, state } = folderWithAlarm();
    const ann = await console_(fleet, state);
    expect(ann.current().attached).toBeUndefined();
    await ann.letGo();
    const { child } = await collector(fleet, state);
    ann.takeUp();
    await within(takeOverMs, () => expect(ann.current().collector?.pid).toBe(child.pid));
  });

  it("make room for an unattended collector and attach to it; what was told and said stands, and nothing twice", async () => {
    const { fleet, state, log } = folderWithAlarm();
    const [ann, ben] = [await console_(fleet, state), await console_(fleet, state)];
    expect(ann.current().attached).toBeUndefined();
    expect(ben.current().attached).toBe(true);
    await ann.viewWhere(({ units }) => units[0].alarms.length > 0);
    await ann.say(acknowledge(ann.current(), "Ann"));
    const { child, lines } = await collector(fleet, state);
    for (const each of [ann, ben]) {
      await within(takeOverMs, () => expect(each.current().collector?.pid).toBe(child.pid));
      await within(takeOverMs, () => expect(each.current().units[0].alarms[0]?.acknowledged?.by).toBe("Ann"));
      expect(each.current().notices).toEqual([]);
    }
    const time = new Date().toISOString();
    appendFileSync(log, `${time},9.2,45,-12,86,30,on\n`);
    await within(takeOverMs, () => expect(ben.current().units[0].lastReadingMs).toBe(Date.parse(time)));
    expect(lines()).not.toContain("ozone-not-allowed");
    child.kill("SIGTERM");
    await once(child, "exit");
    const db = readDatabase(state).value;
    expect([...(db ? eventsIn(db, {}) : [])].map(({ line }) => JSON.parse(line).event)).toEqual(["raised"]);
    db?.close();
  });

  it("collect again where the unattended collector that asked for room does not come", async () => {
    const { fleet, state } = folderWithAlarm();
    const ann = await console_(fleet, state);
    await ann.viewWhere(({ units }) => units[0].alarms.length > 0);
    const asking = await attach(state);
    asking?.handOver();
    await within(takeOverMs, () => expect(ann.current().notices[0]).toContain("is taking over"));
    await within(2 * takeOverMs, () => expect(ann.current().notices).toEqual([]));
    expect(ann.current().collector?.pid).toBe(process.pid);
  });

  it("closed while they make room collect no more", async () => {
    const { fleet, state } = folderWithAlarm();
    const ann = await console_(fleet, state);
    (await attach(state))?.handOver();
    await within(takeOverMs, () => expect(ann.current().notices[0]).toContain("is taking over"));
    const begunMs = () => {
      const db = readDatabase(state).value;
      const last = db ? lastCollector(db).value : null;
      db?.close();
      return last?.sinceMs;
    };
    const beforeMs = begunMs();
    expect(beforeMs).toBeDefined();
    await ann.close();
    await sleep(1500);
    expect(begunMs()).toBe(beforeMs);
  });

  it("set aside and taken up again while they make room collect once, and let go when they are closed", async () => {
    const { fleet, state } = folderWithAlarm();
    const ann = await console_(fleet, state);
    (await attach(state))?.handOver();
    await within(takeOverMs, () => expect(ann.current().notices[0]).toContain("is taking over"));
    await ann.letGo();
    ann.takeUp();
    await within(2 * takeOverMs, () => expect(ann.current().notices).toEqual([]));
    expect(ann.current().attached).toBeUndefined();
    await sleep(500);
    await ann.close();
    expect(await attach(state)).toBeUndefined();
  });

  it("a new one says that a collector which was stopped does not answer", async () => {
    const { fleet, state } = folderWithAlarm();
    const { child } = await collector(fleet, state);
    child.kill("SIGSTOP");
    await expect(console_(fleet, state)).rejects.toThrow(
      "another process collects there and does not answer",
    );
    child.kill("SIGCONT");
    expect((await console_(fleet, state)).current().collector?.pid).toBe(child.pid);
  });

  it("what another program writes into the collector's socket harms nobody", async () => {
    const { fleet, state } = folderWithAlarm();
    const { child } = await collector(fleet, state);
    const stranger = connect(join(state, "collector.sock"));
    stranger.on("error", () => {}).resume();
    stranger.write(Buffer.from([4, 0, 0, 0, 1, 2, 3, 4]));
    await once(stranger, "close");
    expect((await console_(fleet, state)).current().collector?.pid).toBe(child.pid);
  });

  it("a second collector is refused in one line, and the first goes on", async () => {
    const { fleet, state } = folderWithAlarm();
    const { child } = await collector(fleet, state);
    const second = spawn(process.execPath, [program, "collect", fleet, "--state", state]);
    let error = "";
    second.stderr.on("data", (text) => {
      error += text;
    });
    const [status] = await once(second, "exit");
    expect(status).toBe(2);
    expect(error).toBe(
      `${state}: process ${child.pid} on ${(await import("node:os")).hostname()} (collect) collects there already; end it first\n`,
    );
    expect(child.exitCode).toBeNull();
  });

  it("a fleet file read again on SIGHUP counts at once; a bad one is refused and the old one goes on", async () => {
    const { fleet, state } = folderWithAlarm();
    const { child, lines } = await collector(fleet, state);
    const ann = await console_(fleet, state);
    writeFileSync(fleet, "fleet: Larkmoor ponds\nlogs: logs\nunits:\n  - { id: LM-01, ozon: none }\n");
    child.kill("SIGHUP");
    await within(takeOverMs, () =>
      expect(lines()).toContain("the fleet file is not used; the one before goes on"),
    );
    expect(lines()).toContain("units[0].ozon");
    writeFileSync(fleet, "fleet: Larkmoor waters\nlogs: logs\nunits:\n  - { id: LM-01 }\n");
    child.kill("SIGHUP");
    await within(takeOverMs, () => expect(ann.current().fleet).toBe("Larkmoor waters"));
    await within(takeOverMs, () =>
      expect(ann.current().units[0].alarms.map(({ alarm }) => alarm)).not.toContain("ozone-not-allowed"),
    );
    child.kill("SIGTERM");
    expect(await once(child, "exit")).toEqual([143, null]);
    expect(existsSync(join(state, "collector.sock"))).toBe(false);
  });

  it("a state folder that cannot be used leaves the screen working, and says that nothing is kept", async () => {
    const { fleet, state } = folderWithAlarm();
    writeFileSync(state, "");
    const ann = await console_(fleet, state);
    await ann.viewWhere(({ units }) => units[0].alarms.length > 0);
    expect(ann.current().notices[0]).toContain("nothing is kept: ");
    expect(ann.current().notices[0]).toContain("it is a file, not a folder");
    expect(await ann.say(acknowledge(ann.current(), "Ann"))).toContain("nothing is kept");
  });
});
