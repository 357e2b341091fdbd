import { join } from "node:path";
import { expect, it } from "vitest";
import { takeBack } from "../../src/fleet/services.ts";
import { openDatabase } from "../../src/store/database.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { addService, type SaidService } from "../../src/store/services.ts";
import { hour } from "../../src/terms/time.ts";
import { called } from "../support/called.ts";
import { folderWith } from "../support/program.ts";

it("a stop that was taken back is planned no more, and one planned anew from the same time is", async () => {
  const folder = folderWith({ "fleet.yaml": "units:\n  - { id: LM-01 }\n" });
  const state = join(folder, "state");
  const opened = await openStateFolder(state);
  if (opened.problem !== undefined) throw new Error(opened.problem);
  const { value } = openDatabase(opened.value);
  const saidMs = Date.now();
  const atMs = Date.UTC(2126, 4, 4);
  const plan = (id: string, untilMs: number): SaidService => ({
    id,
    unit: "LM-01",
    work: "planned stop",
    step: "begin",
    by: "Ann",
    atMs,
    untilMs,
    saidMs,
  });
  const planned = async (...records: readonly SaidService[]) => {
    for (const record of records) if (value !== undefined) addService(value.db, record);
    return (await called(["service", join(folder, "fleet.yaml"), "--state", state])).stdout;
  };
  const first = plan("1", atMs + 4 * hour);
  expect(await planned(first)).toMatch(
    /^without a site\n {2}LM-01 {2}stop planned from 4 May 2126 00:00 until 4 May 2126 04:00\n$/,
  );
  expect(await planned({ ...takeBack(first, saidMs), id: "2" })).toBe(
    "no service is begun, planned or on record, and no reading is known\n",
  );
  expect(await planned(plan("3", atMs + 5 * hour))).toMatch(
    /^without a site\n {2}LM-01 {2}stop planned from 4 May 2126 00:00 until 4 May 2126 05:00\n$/,
  );
  value?.db.close();
});
