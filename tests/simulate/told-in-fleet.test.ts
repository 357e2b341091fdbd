import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { eventLine, inOrder } from "../../src/collector/event-lines.ts";
import { readOnce } from "../../src/collector/read-once.ts";
import { readEvents } from "../../src/score/event-file.ts";
import { score } from "../../src/score/score.ts";
import { readTruth } from "../../src/score/truth.ts";
import { inventFleet } from "../../src/simulate/invent.ts";
import type { Invention } from "../../src/simulate/invention.ts";
import { writeFleet } from "../../src/simulate/write-fleet.ts";
import { minute } from "../../src/terms/time.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";

/** What was true of an invented fleet, held against what its logs told. */
async function scored(change: Pick<Invention, "units" | "days" | "seed" | "faults">) {
  const invention = { ...change, intervalMs: minute, fromMs: Date.parse("2026-05-04T00:00:00Z") };
  const folder = folderWith({});
  const writing = writeFleet(folder, inventFleet(invention), invention);
  while (!writing.next().done);
  const file = (name: string) => readFileSync(join(folder, name), "utf8");
  const fleet = { ...fleetOf(file("fleet.yaml"), folder), logs: join(folder, "logs") };
  const { units } = await readOnce(fleet, { services: fleet.services, threads: 1 });
  const events = readEvents(inOrder(units).map(eventLine).join("\n"), "events.jsonl");
  const truth = readTruth(file("truth.csv"), "truth.csv");
  if ("problem" in events || "problems" in truth) throw new Error("the fleet's own files cannot be read");
  return score(truth.faults, events.told, truth.unitDays ?? null);
}

describe("the rules over an invented fleet", () => {
  test("tell nothing of normal life: schedules, starts, visits, sags, weather, gaps and spoilt rows", async () => {
    const { falseAlarms, unitDays } = await scored({ units: 4, days: 3, seed: 42, faults: [] });
    expect(unitDays).toBe(12);
    expect(falseAlarms).toEqual([]);
  });

  test("catch nine faults of ten, and tell nothing that is not so", async () => {
    const { total, falseAlarms } = await scored({ units: 8, days: 5, seed: 42, faults: "all" });
    expect(total.faults).toBeGreaterThan(20);
    expect(total.recall?.value).toBeGreaterThanOrEqual(0.9);
    expect(falseAlarms).toEqual([]);
  });
});
