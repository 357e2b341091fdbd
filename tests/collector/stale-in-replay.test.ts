import { describe, expect, it } from "vitest";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { quietDay } from "../support/fleets.ts";
import { playFleet, toldBy } from "../support/played.ts";
import { clean, midnight, readings, rowsOf } from "../support/unit-days.ts";

/** Clean running, every `every` seconds, in these spans of minutes after midnight. */
function spans(...of: readonly (readonly [fromMinute: number, toMinute: number])[]): ReadingBatch {
  return joined(
    of.map(([from, to]) =>
      readings([{ seconds: (to - from) * 60, values: clean }], 10, midnight + from * 60_000),
    ),
  );
}

function joined(parts: readonly ReadingBatch[]): ReadingBatch {
  const columns = parts[0].columns.map((_, i) => {
    const of = parts.map((part) => part.columns[i]);
    return of.every((column) => column !== undefined)
      ? Float64Array.from(of.flatMap((column) => [...column]))
      : undefined;
  });
  return {
    rows: parts.reduce((sum, part) => sum + part.rows, 0),
    timeMs: Float64Array.from(parts.flatMap((part) => [...part.timeMs])),
    columns,
  };
}

const unit = (id: string, more = "") => `{ id: ${id}${more} }`;
const until = (time: string) => Date.parse(`2026-05-04T${time}Z`);

describe("readings-stale in replay goes by the fleet's time", () => {
  it("is raised for a unit that is silent while another goes on, and clears at its next reading", async () => {
    const read = await playFleet([
      { yaml: unit("LM-01"), batch: spans([0, 30], [60, 90]) },
      { yaml: unit("LM-02"), batch: spans([0, 90]) },
    ]);
    expect(toldBy(read)).toEqual([
      "LM-01 00:30:50 raised readings-stale",
      "LM-01 01:00:00 cleared readings-stale",
    ]);
    const [raised] = read.units[0].findings;
    expect(raised.sinceMs).toBe(until("00:29:50"));
  });

  it("is not raised at the first step of a slow log, and is when that log falls silent", async () => {
    const slow = readings([{ seconds: 3600, values: clean }], 300);
    const read = await playFleet([
      { yaml: unit("LM-01"), batch: slow },
      { yaml: unit("LM-02"), batch: spans([0, 90]) },
    ]);
    // Five intervals of five minutes after the last reading, at 00:55.
    expect(toldBy(read)).toEqual(["LM-01 01:20:00 raised readings-stale"]);
  });

  it("is not raised by a silence of the whole fleet", async () => {
    const read = await playFleet([
      { yaml: unit("LM-01"), batch: spans([0, 30], [60, 90]) },
      { yaml: unit("LM-02"), batch: spans([0, 30], [60, 90]) },
    ]);
    expect(toldBy(read)).toEqual([]);
  });

  it("is raised, after a silence of the whole fleet, only for the unit that comes back later", async () => {
    const read = await playFleet([
      { yaml: unit("LM-01"), batch: spans([0, 30], [62, 90]) },
      { yaml: unit("LM-02"), batch: spans([0, 30], [60, 90]) },
    ]);
    expect(toldBy(read)).toEqual([
      "LM-01 00:30:50 raised readings-stale",
      "LM-01 01:02:00 cleared readings-stale",
    ]);
  });

  it("is not raised by a silence just as long as the limit", async () => {
    const batch = joined([spans([0, 30]), rowsOf(spans([30, 60]), 5, 180)]);
    const other = { yaml: unit("LM-02"), batch: spans([0, 60]) };
    expect(toldBy(await playFleet([{ yaml: unit("LM-01"), batch }, other]))).toEqual([]);
    const longer = joined([spans([0, 30]), rowsOf(spans([30, 60]), 6, 180)]);
    expect(toldBy(await playFleet([{ yaml: unit("LM-01"), batch: longer }, other]))).toEqual([
      "LM-01 00:30:50 raised readings-stale",
      "LM-01 00:31:00 cleared readings-stale",
    ]);
  });

  it("is seen in a silence that goes stale and ends within one minute of the clock", async () => {
    // Silent 00:30:00–00:31:40: stale from 00:31:00 to 00:31:40, while the other reads at :00, :10, … :50.
    const batch = joined([spans([0, 30]), rowsOf(spans([30, 60]), 0, 1), rowsOf(spans([30, 60]), 10, 180)]);
    const read = await playFleet([
      { yaml: unit("LM-01"), batch },
      { yaml: unit("LM-02"), batch: spans([0, 60]) },
    ]);
    expect(toldBy(read)).toEqual([
      "LM-01 00:31:00 raised readings-stale",
      "LM-01 00:31:40 cleared readings-stale",
    ]);
  });

  it("is seen likewise where the stale time begins inside the minute", async () => {
    // Silent 00:30:10–00:31:50: stale from 00:31:10; the other's readings at 00:31:00 and :59 lie outside.
    const batch = joined([spans([0, 30]), rowsOf(spans([30, 60]), 0, 2), rowsOf(spans([30, 60]), 11, 180)]);
    const read = await playFleet([
      { yaml: unit("LM-01"), batch },
      { yaml: unit("LM-02"), batch: spans([0, 60]) },
    ]);
    expect(toldBy(read)).toEqual([
      "LM-01 00:31:10 raised readings-stale",
      "LM-01 00:31:50 cleared readings-stale",
    ]);
  });

  it("is decided at the end by --to, not by the last reading", async () => {
    const one = [{ yaml: unit("LM-01"), batch: spans([0, 70]) }];
    expect(toldBy(await playFleet(one))).toEqual([]);
    expect(toldBy(await playFleet(one, { toMs: until("01:10:49") }))).toEqual([]);
    expect(toldBy(await playFleet(one, { toMs: until("01:10:50") }))).toEqual([
      "LM-01 01:10:50 raised readings-stale",
    ]);
    expect(toldBy(await playFleet(one, { toMs: until("03:00:00") }))).toEqual([
      "LM-01 01:10:50 raised readings-stale",
    ]);
  });

  it("stays raised at the end where the others went on", async () => {
    const read = await playFleet([
      { yaml: unit("LM-01"), batch: spans([0, 30]) },
      { yaml: unit("LM-02"), batch: spans([0, 90]) },
    ]);
    expect(toldBy(read)).toEqual(["LM-01 00:30:50 raised readings-stale"]);
  });

  it("says nothing of a unit that never had a reading: that is for its problem to say", async () => {
    const read = await playFleet([
      { yaml: unit("LM-01"), batch: rowsOf(spans([0, 1]), 0, 0) },
      { yaml: unit("LM-02"), batch: spans([0, 90]) },
    ]);
    expect(toldBy(read)).toEqual([]);
    expect(read.units[0].view.problem).not.toBeNull();
  });

  it("keeps to what is delivered: an hourly delivery is waited for twice", async () => {
    const read = await playFleet([
      { yaml: unit("LM-01", ", arrives_every: 1 h"), batch: spans([0, 30], [140, 150]) },
      { yaml: unit("LM-02", ", arrives_every: 1 h"), batch: spans([0, 30], [155, 160]) },
      { yaml: unit("LM-03"), batch: spans([0, 160]) },
    ]);
    expect(toldBy(read)).toEqual([
      "LM-02 02:29:50 raised readings-stale",
      "LM-02 02:35:00 cleared readings-stale",
    ]);
  });
});

describe("services in replay", () => {
  const service = (kind: string, at: string) => `{ unit: LM-01, kind: ${kind}, at: 2026-05-04T${at}Z }`;
  const services = (...records: string[]) => `services: [${records.join(", ")}]\n`;
  const other = { yaml: unit("LM-02"), batch: spans([0, 90]) };

  it("come in their order with the clock: a service begun in a silence does not reach back over its beginning", async () => {
    const read = await playFleet(
      [{ yaml: unit("LM-01"), batch: spans([0, 30], [60, 90]) }, other],
      {},
      services(service("repair begin", "00:40:00"), service("repair end", "00:50:00")),
    );
    expect(toldBy(read)).toEqual([
      "LM-01 00:30:50 raised readings-stale",
      "LM-01 00:40:00 suppressed readings-stale by service",
      "LM-01 00:50:00 unsuppressed readings-stale",
      "LM-01 01:00:00 cleared readings-stale",
    ]);
  });

  it("say nothing of readings that the whole fleet lacked", async () => {
    const read = await playFleet(
      [
        { yaml: unit("LM-01"), batch: spans([0, 30], [60, 90]) },
        { yaml: unit("LM-02"), batch: spans([0, 30], [60, 90]) },
      ],
      {},
      services(service("repair begin", "00:40:00"), service("repair end", "00:50:00")),
    );
    expect(toldBy(read)).toEqual([]);
  });

  it("are taken also after a unit's last reading", async () => {
    const read = await playFleet(
      [{ yaml: unit("LM-01"), batch: readings(quietDay) }, other],
      {},
      services(service("inspection begin", "01:12:00")),
    );
    expect(toldBy(read)).toEqual([
      "LM-01 01:10:50 raised readings-stale",
      "LM-01 01:12:00 suppressed readings-stale by service",
    ]);
  });

  it("of another unit change nothing", async () => {
    const read = await playFleet(
      [{ yaml: unit("LM-01"), batch: spans([0, 30]) }, other],
      {},
      services("{ unit: LM-02, kind: repair begin, at: 2026-05-04T00:10:00Z }"),
    );
    expect(toldBy(read)).toEqual(["LM-01 00:30:50 raised readings-stale"]);
  });
});
