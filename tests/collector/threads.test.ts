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
  it.each([2, 3, 24])("tells the same bytes on %d as on one, and shows the same", async (threads) => {
    const { readOnce } = (await import(built)) as typeof ReadOnce;
    const folder = join(projectFolder, "sample-logs");
    const fleet = fleetOf(await readFile(join(folder, "fleet.yaml"), "utf8"), folder);
    const read = async (count: number) => {
      const { units } = await readOnce(fleet, { services: fleet.services, threads: count });
      return { events: inOrder(units).map(eventLine).join("\n"), views: units.map(({ view }) => view) };
    };
    const one = await read(1);
    expect(one.events.split("\n").length).toBeGreaterThan(10);
    expect(await read(threads)).toEqual(one);
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
