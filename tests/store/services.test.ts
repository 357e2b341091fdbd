import { describe, expect, it } from "vitest";
import { readDatabase } from "../../src/store/database.ts";
import { migrations, versionOf } from "../../src/store/migrations.ts";
import { addService, type SaidService, servicesAfter } from "../../src/store/services.ts";
import { database, done, stateFolder } from "./workbench.ts";

const cleaning: SaidService = {
  id: "8f0c8f0e-4c0c-4f5e-9d55-6d1f0a3f8a11",
  unit: "LM-03",
  work: "cleaning",
  step: "done",
  atMs: 1_777_000_000_000,
  saidMs: 1_777_000_000_500,
  by: "Ann",
  note: "much iron",
  visit: {
    arrivedMs: 1_776_998_000_000,
    leftMs: 1_777_000_000_000,
    readings: { dissolvedOxygenMgL: 7.4, secchiM: 1.2, waterTemperatureC: 18.5 },
    groundFault: "tripped",
    parts: ["check valve"],
    used: ["cleaner 25 mL"],
    photos: ["2026-05-04/IMG_0113.jpg"],
  },
};

describe("a service record", () => {
  it("comes back with all that was told of the visit", async () => {
    const db = database(await stateFolder());
    done(addService(db, cleaning));
    expect(done(servicesAfter(db, 0))).toEqual([{ row: 1, ...cleaning }]);
  });

  it("of a state folder from before visits were kept is read as it is, and stays when the folder is brought up to date", async () => {
    const folder = await stateFolder();
    const old = database(folder, { steps: migrations.slice(0, 1) });
    old.exec(
      "INSERT INTO services (id, unit, work, step, at_ms, by, said_ms) VALUES ('1', 'LM-03', 'cleaning', 'done', 5, 'Ann', 6)",
    );
    old.close();
    const was = {
      row: 1,
      id: "1",
      unit: "LM-03",
      work: "cleaning",
      step: "done",
      atMs: 5,
      by: "Ann",
      saidMs: 6,
    };
    const reading = done(readDatabase(folder.path));
    expect(reading && [versionOf(reading), done(servicesAfter(reading, 0))]).toEqual([1, [was]]);
    reading?.close();
    const db = database(folder);
    done(addService(db, cleaning));
    expect(done(servicesAfter(db, 0))).toEqual([was, { row: 2, ...cleaning }]);
  });
});
