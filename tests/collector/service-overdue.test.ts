import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { play, playClock, startPlayer } from "../../src/collector/play.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { playFleet, toldBy } from "../support/played.ts";
import { folderWith, run as program } from "../support/program.ts";
import { cutAt, cuts, randomLog } from "../support/random-logs.ts";
import { statusShape } from "../support/status-shape.ts";
import { but, midnight, readings, type Stretch, start, unitOf } from "../support/unit-days.ts";

const every10min = (fromDay: number, days: number): ReturnType<typeof readings> => {
  const stretch: Stretch = { seconds: days * 86_400, values: but({}) };
  return readings([stretch], 600, Date.parse("2026-05-04T00:00:00Z") + fromDay * 86_400_000);
};
const unit = (more = "") =>
  `{ id: LM-01, sample_interval: 10 min, service: { inspection_every: 3 d, cleaning_every: 30 d }${more} }`;
const services = (...records: string[]) => `services: [${records.join(", ")}]\n`;
const record = (kind: string, at: string) => `{ unit: LM-01, kind: ${kind}, at: ${at}Z }`;
const overdue = async (days: number, top = "", more = "", toMs?: number) => {
  const read = await playFleet([{ yaml: unit(more), batch: every10min(0, days) }], { toMs }, top);
  const findings = read.units[0]?.findings.filter(({ alarm }) => alarm === "service-overdue") ?? [];
  return {
    read,
    findings,
    told: findings.map(({ event, timeMs }) => `${new Date(timeMs).toISOString().slice(5, 16)} ${event}`),
  };
};

describe("a service that is overdue", () => {
  it("is a prompt, counted from the first reading where nothing is on record, and says so", async () => {
    const { findings, told, read } = await overdue(4);
    expect(told).toEqual(["05-07T00:00 raised"]);
    expect(findings[0]).toMatchObject({
      priority: "prompt",
      evidence: { since_inspection: { value: 3, limit: 3, unit: "d" } },
    });
    expect(findings[0]?.message).toBe(
      "Inspection is overdue: none on record since the first reading on 2026-05-04, due every 3 d.",
    );
    expect(read.units[0]?.view.alarms.map(({ message }) => message)).toContain(findings[0]?.message);
  });

  it("is counted from when the work was last done, also before the first reading; its begin does not do it", async () => {
    const before = services(
      record("inspection", "2026-05-03T12:00:00"),
      record("inspection begin", "2026-05-06T10:00:00"),
    );
    expect((await overdue(4, before)).told).toEqual(["05-06T12:00 suppressed"]);
    const longSince = services(record("inspection", "2026-01-01T00:00:00"));
    const { told, findings } = await overdue(1, longSince);
    expect(told).toEqual(["05-04T00:00 raised"]);
    expect(findings[0]?.message).toContain("last done on 2026-01-01");
  });

  it("is not done by one that ended by itself: nobody said that it was", async () => {
    const lapsed =
      "{ unit: LM-01, kind: inspection begin, at: 2026-05-06T10:00:00Z, until: 2026-05-07T14:00:00Z }";
    expect((await overdue(6, services(lapsed))).told).toEqual([
      "05-07T00:00 suppressed",
      "05-07T14:00 unsuppressed",
    ]);
  });

  it("is over when the work is recorded, and due anew an interval later", async () => {
    expect((await overdue(8, services(record("inspection", "2026-05-07T09:00:00")))).told).toEqual([
      "05-07T00:00 raised",
      "05-07T09:00 cleared",
      "05-10T09:00 raised",
    ]);
    expect((await overdue(4, services(record("inspection", "2026-05-06T09:00:00")))).told).toEqual([]);
  });

  it("falls due in a silence too, by the end of the replay", async () => {
    expect((await overdue(1, "", "", Date.parse("2026-05-06T23:59:59Z"))).told).toEqual([]);
    expect((await overdue(1, "", "", Date.parse("2026-05-07T00:00:00Z"))).told).toEqual([
      "05-07T00:00 raised",
    ]);
  });

  it("waits for the season of a unit that is laid up", async () => {
    const { told } = await overdue(4, "", ", season: 04-01..05-05", Date.parse("2026-12-01T00:00:00Z"));
    expect(told).toEqual([]);
  });

  it("names both works where both are", async () => {
    const both = ", limits: { service-overdue: { priority: low } }".replace("cleaning_every: 30 d", "");
    const read = await playFleet([
      {
        yaml: `{ id: LM-01, sample_interval: 10 min, service: { inspection_every: 2 d, cleaning_every: 3 d }${both} }`,
        batch: every10min(0, 4),
      },
    ]);
    const alarm = read.units[0]?.view.alarms.find(({ alarm }) => alarm === "service-overdue");
    expect(alarm).toMatchObject({ priority: "low" });
    expect(alarm?.message).toMatch(/^Inspection is overdue: .* Cleaning is overdue: /);
    expect(toldBy(read).filter((line) => line.includes("overdue"))).toHaveLength(1);
  });

  it("counts neither for check's exit status nor for the worst", async () => {
    const cwd = folderWith({
      "fleet.yaml": fleetFile([unit()]),
      "logs/LM-01.csv": logText(every10min(0, 4)),
    });
    const ended = await program(["check", "--json", "--at", "2026-05-07T23:50:00Z"], { cwd });
    expect(ended).toMatchObject({ status: 0, stderr: "" });
    const status = statusShape.parse(JSON.parse(ended.stdout));
    expect(status.worst).toBeNull();
    expect(status.units[0]?.alarms).toMatchObject([{ alarm: "service-overdue", priority: "prompt" }]);
  });

  it.each([true, false])(
    "is told the same however the log is split; a clock passes silences: %s",
    (clockRuns) => {
      const often = unitOf("{ id: LM-01, service: { inspection_every: 17 min, cleaning_every: 40 min } }");
      const work = fc.record({
        unit: fc.constant("LM-01"),
        work: fc.constantFrom<ServiceRecord["work"]>("inspection", "cleaning", "repair"),
        step: fc.constantFrom<ServiceRecord["step"]>("begin", "end", "done"),
        atMs: fc.integer({ min: 0, max: 180 }).map((minute) => midnight + minute * 60_000),
      });
      fc.assert(
        fc.property(randomLog, cuts, fc.array(work, { maxLength: 6 }), (log, places, records) => {
          const played = (parts: readonly ReadingBatch[]) => {
            const player = startPlayer(start(often), records);
            const findings = parts.flatMap((batch) => play(player, batch, clockRuns));
            playClock(player, midnight + 5 * 3_600_000, findings);
            return findings;
          };
          const told = played([log]);
          expect(played(cutAt(log, places))).toEqual(told);
          const mine = told.filter(({ alarm }) => alarm === "service-overdue");
          expect(mine.map(({ timeMs }) => timeMs)).toEqual(
            mine.map(({ timeMs }) => timeMs).sort((a, b) => a - b),
          );
          if (records.length === 0) expect(mine).toHaveLength(log.rows > 0 ? 1 : 0);
        }),
        { numRuns: 40 },
      );
    },
  );
});
