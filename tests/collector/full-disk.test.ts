import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it, vi } from "vitest";
import { startCollector } from "../../src/collector/collector.ts";
import { type Said, startKeeping } from "../../src/collector/keeping.ts";
import { eventsOf } from "../../src/store/events.ts";
import { fleetFile } from "../support/fleets.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";

const header = "time,motor_current_a,discharge_pressure_kpa,ozone\n";

it("a disk that is full: the alarm is shown, the screen says that it is not kept, and it is once there is space", {
  timeout: 20_000,
}, async () => {
  const folder = folderWith({ "logs/LM-01.csv": `${header}2026-05-04T00:00:00Z,9.1,86,off\n` });
  const fleet = { ...fleetOf(fleetFile(["{ id: LM-01, ozone: none }"]), folder), logs: join(folder, "logs") };
  const asked = await startKeeping({ folder: join(folder, "state"), kind: "watch" });
  if (!("kept" in asked)) throw new Error("the state folder cannot be used");
  const keeping = asked.kept;
  const clock = { originMs: Date.parse("2026-05-04T00:01:00Z"), wallMs: 0, speed: 0 };
  const collector = await startCollector(
    { fleet, stateFolder: join(folder, "state"), clock },
    { onChange: () => undefined },
    { keeping },
  );
  const until = (met: () => void) => vi.waitFor(met, { timeout: 30_000, interval: 50 });
  try {
    await until(() => expect(collector.view().catchingUp).toBeUndefined());
    // SQLite refuses to grow past this as it does where the disk is full.
    const pages = Number(keeping.db.prepare("PRAGMA page_count").get()?.page_count);
    keeping.db.exec(`PRAGMA max_page_count = ${pages}`);
    appendFileSync(
      join(folder, "logs", "LM-01.csv"),
      Array.from({ length: 5 }, (_, n) => `2026-05-04T00:00:${10 * (n + 1)}Z,9.1,86,on\n`).join(""),
    );
    await until(() => {
      const { units, notices } = collector.view();
      expect(units[0].alarms.map(({ alarm }) => alarm)).toEqual(["ozone-not-allowed"]);
      expect(notices.join()).toContain("the disk is full");
    });
    expect(eventsOf(keeping.db).value).toEqual([]);
    keeping.db.exec("PRAGMA max_page_count = 100000");
    await until(() => {
      expect(collector.view().notices).toEqual([]);
      expect(eventsOf(keeping.db).value?.map(({ line }) => JSON.parse(line).event)).toEqual(["raised"]);
    });
  } finally {
    await collector.close();
    keeping.close();
  }
});

it("a disk that is full: a word and a service are refused in one line, nothing of them is kept, and both are once there is space", async () => {
  const asked = await startKeeping({ folder: join(folderWith({}), "state"), kind: "watch" });
  if (!("kept" in asked)) throw new Error("the state folder cannot be used");
  const keeping = asked.kept;
  const saidMs = Date.parse("2026-05-04T00:01:00Z");
  // As long as a note may be: it needs a page of its own.
  const note = "the pond is low; ".repeat(400);
  const service = {
    unit: "LM-01",
    work: "cleaning",
    step: "begin",
    atMs: saidMs,
    by: "Ann",
    saidMs,
  } as const;
  const said: readonly Said[] = [
    {
      kind: "word",
      word: { id: "1", unit: "LM-01", alarm: "lost-prime", action: "note", by: "Ann", atMs: saidMs, note },
    },
    { kind: "service", record: { ...service, id: "2", note } },
  ];
  const kept = () => keeping.wordsAfter(0).length + keeping.servicesAfter(0).length;
  try {
    const pages = Number(keeping.db.prepare("PRAGMA page_count").get()?.page_count);
    keeping.db.exec(`PRAGMA max_page_count = ${pages}`);
    for (const one of said) expect(keeping.say(one)).toContain("the disk is full");
    expect(kept()).toBe(0);
    keeping.db.exec("PRAGMA max_page_count = 100000");
    for (const one of said) expect(keeping.say(one)).toBeNull();
    expect(kept()).toBe(2);
  } finally {
    keeping.close();
  }
});
