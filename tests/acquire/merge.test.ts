import { expect, it } from "vitest";
import { currents, header, logFolder, openLog, rowsOf, write } from "./workbench.ts";

it("a clock that steps back at the end of a log makes no other log's reading late", async () => {
  const folder = logFolder();
  const stepsBack = `${header}\n${rowsOf(10, 11)}${rowsOf(20, 21)}${rowsOf(30, 31)}${rowsOf(10, 11)}`;
  const unit = openLog(folder);
  unit.setFiles([
    write(folder, "LM-01-a.csv", `${header}\n${rowsOf(11, 12)}`),
    write(folder, "LM-01-b.csv", stepsBack),
  ]);
  expect(await currents(unit)).toEqual([10, 11, 20, 30]);
  expect(unit.status().late).toBe(1);
});
