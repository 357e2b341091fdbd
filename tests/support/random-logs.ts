import fc from "fast-check";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { type Channel, channels } from "../../src/terms/channels.ts";
import { dry, stopped } from "./fleets.ts";
import { but, clean, midnight, type Stretch, type Values, wobble } from "./unit-days.ts";

/** What may happen at a unit for a while; null: its logger writes nothing. */
const happenings: readonly (Stretch["values"] | null)[] = [
  clean,
  clean,
  but(dry),
  but({ ...dry, ozone: 1 }),
  but({ ...dry, motor_temperature: 95 }),
  but({ motor_temperature: 95 }),
  but({ ozone: 0 }),
  but({ ozone: 2 }),
  but({ discharge_pressure: 30 }),
  stopped,
  { ...stopped, ozone: 1 },
  (s) => (s % 400 < 200 ? clean(s) : stopped),
  (s) => ({ ...clean(s), discharge_pressure: 43 + 40 * wobble(s, "discharge_pressure") }),
  (s) => ({ ...clean(s), motor_temperature: 58 + s / 30 }),
  null,
];

const stretch = fc.record({
  happening: fc.nat(happenings.length - 1),
  minutes: fc.integer({ min: 1, max: 30 }),
  everyS: fc.integer({ min: 1, max: 60 }),
});

/** How a log was kept: how many cells are empty, how many readings come in two rows or not at all. */
const keeping = fc.record({
  emptyShare: fc.constantFrom(0, 0, 0.02, 0.3, 0.9),
  joinedShare: fc.constantFrom(0, 0, 0.05, 0.5),
  /** How many spans of 90 s the logger missed. */
  missedShare: fc.constantFrom(0, 0, 0.1, 0.4),
  /** Channels that this logger never writes. */
  lacking: fc.subarray<Channel>(["motor_current", "motor_temperature", "discharge_pressure", "ozone"], {
    maxLength: 1,
  }),
});

/** A chance in 0…1 that belongs to a row and a channel, the same at every run. */
const chance = (row: number, channel: Channel): number => (wobble(row * 7 + 3, channel) + 1) / 2;

/**
 * Any day of a unit's log: an hour or so of clean running, then whatever comes, in steps of 1–60 s, with
 * empty cells, gaps, and rows that complete one of the same time.
 */
export const randomLog: fc.Arbitrary<ReadingBatch> = fc
  .record({
    cleanMinutes: fc.constantFrom(0, 10, 50, 60),
    cleanEveryS: fc.integer({ min: 5, max: 60 }),
    stretches: fc.array(stretch, { minLength: 1, maxLength: 6 }),
    keeping,
  })
  .map(({ cleanMinutes, cleanEveryS, stretches, keeping }) => {
    const { emptyShare, joinedShare, missedShare, lacking } = keeping;
    const times: number[] = [];
    const rows: Values[] = [];
    let beginMs = midnight;
    const all = [{ happening: 0, minutes: cleanMinutes, everyS: cleanEveryS }, ...stretches];
    for (const { happening, minutes, everyS } of all) {
      const values = happenings[happening] ?? null;
      for (let s = 0; values !== null && s < minutes * 60; s += everyS) {
        const span = Math.floor((beginMs + s * 1000) / 90_000);
        if (beginMs > midnight && chance(span, "voltage") < missedShare) continue;
        const reading: Values = { ...(typeof values === "function" ? values(s) : values) };
        const row = rows.length;
        for (const channel of Object.keys(reading) as Channel[]) {
          if (lacking.includes(channel) || chance(row, channel) < emptyShare) delete reading[channel];
        }
        if (chance(row, "power") < joinedShare) {
          const first = Object.entries(reading).filter((_, i) => i % 2 === 0);
          times.push(beginMs + s * 1000);
          rows.push(Object.fromEntries(first));
        }
        times.push(beginMs + s * 1000);
        rows.push(reading);
      }
      beginMs += minutes * 60_000;
    }
    return {
      rows: times.length,
      timeMs: Float64Array.from(times),
      columns: channels.map((channel) =>
        rows.some((row) => row[channel] !== undefined)
          ? Float64Array.from(rows.map((row) => row[channel] ?? Number.NaN))
          : undefined,
      ),
    };
  });

/** Places in 0…1 at which a log is cut. */
export const cuts = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 });

/** The batch in parts, cut at these places. */
export function cutAt(batch: ReadingBatch, places: readonly number[]): ReadingBatch[] {
  const at = [0, ...places.map((place) => Math.floor(place * batch.rows)).sort((a, b) => a - b), batch.rows];
  return at.slice(1).map((to, i) => ({
    rows: to - (at[i] ?? 0),
    timeMs: batch.timeMs.slice(at[i], to),
    columns: batch.columns.map((column) => column?.slice(at[i], to)),
  }));
}
