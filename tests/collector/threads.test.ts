import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { eventLine, inOrder } from "../../src/collector/event-lines.ts";
import type * as ReadOnce from "../../src/collector/read-once.ts";
import { fleetOf } from "../support/played.ts";
import { projectFolder } from "../support/program.ts";

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
});
