import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openUnitLog } from "../../src/acquire/unit-log.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { clean, midnight, readings } from "../support/unit-days.ts";

it("a unit of many small logs leaves clock, questions and views their turn", async () => {
  const folder = folderWith({ "logs/keep.txt": "" });
  const paths = Array.from({ length: 600 }, (_, day) => {
    const path = join(folder, "logs", `LM-01-${String(day).padStart(4, "0")}.csv`);
    writeFileSync(
      path,
      logText(readings([{ seconds: 3000, values: clean }], 10, midnight + day * 86_400_000)),
    );
    return path;
  });
  const fleet = fleetOf("logs: logs\nunits:\n  - { id: LM-01 }\n", folder);
  const log = openUnitLog(fleet.units[0], fleet);
  log.setFiles(paths);
  let turns = 0;
  const timer = setInterval(() => turns++, 1);
  let rows = 0;
  for await (const batch of log.read()) rows += batch.rows;
  clearInterval(timer);
  expect(rows).toBe(600 * 300);
  expect(turns).toBeGreaterThan(2);
});
