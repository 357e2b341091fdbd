import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { eventLine, inOrder } from "../../src/collector/event-lines.ts";
import type * as ReadOnce from "../../src/collector/read-once.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith, projectFolder, runOther } from "../support/program.ts";

/** The built module: its threads run built files. */
const built = join(projectFolder, "dist/collector/read-once.js");

describe("a fleet read on several threads", () => {
  async function read(threads: number, among = (_: string) => true) {
    const { readOnce } = (await import(built)) as typeof ReadOnce;
    const folder = join(projectFolder, "sample-logs");
    const all = fleetOf(await readFile(join(folder, "fleet.yaml"), "utf8"), folder);
    const fleet = { ...all, units: all.units.filter(({ id }) => among(id)) };
    const services = all.services.filter(({ unit }) => among(unit));
    const { units } = await readOnce(fleet, { services, threads });
    return { events: inOrder(units).map(eventLine), views: units.map(({ view }) => view) };
  }

  it("tells the same bytes on two and on five as on one, and shows the same", async () => {
    const one = await read(1);
    expect(one.events.length).toBeGreaterThan(10);
    for (const threads of [2, 5]) expect(await read(threads), `${threads} threads`).toEqual(one);
  });

  it("tells the same bytes on more threads than units", async () => {
    const springs = (id: string) => /^SB-0[123]$/.test(id);
    const one = await read(1, springs);
    expect(one.events.length).toBeGreaterThan(2);
    expect(await read(4, springs)).toEqual(one);
  });

  it.each([0, 1, 2, 3])(
    "ends with its error where the read of unit %d fails",
    async (bad) => {
      const ids = ["LM-01", "LM-02", "LM-03", "LM-04"];
      const text = "time,Amps\n2026-05-04T00:00:00Z,9.3\n2026-05-04T00:00:10Z,9.3\n";
      const folder = folderWith(Object.fromEntries(ids.map((id) => [`logs/${id}.csv`, text])));
      const fleet = fleetOf(
        `units:\n${ids.map((id) => `  - { id: ${id}, columns: { time: time } }\n`).join("")}`,
        folder,
      );
      const wrong = { column: "Amps", unit: "psi" };
      const units = fleet.units.map((unit, place) =>
        place === bad
          ? { ...unit, columns: { ...unit.columns, channels: { motor_current: [wrong] } } }
          : unit,
      );
      const script = join(projectFolder, "tests/support/failing-share.mjs");
      const given = JSON.stringify({ ...fleet, units, logs: join(folder, "logs") });
      const { status, stdout } = await runOther(process.execPath, [script, given], {});
      expect({ status, stdout }).toEqual({
        status: 0,
        stdout: expect.stringContaining("failed: motor_current"),
      });
    },
    10_000,
  );
});
