import fc from "fast-check";
import { expect, it } from "vitest";
import { eventLine, inOrder } from "../../src/collector/event-lines.ts";
import { dry, stopped } from "../support/fleets.ts";
import { type PlayedUnit, playFleet } from "../support/played.ts";
import { but, clean, readings, type Stretch, type Values } from "../support/unit-days.ts";

/** A stretch of minutes of one kind; `null` is a gap in the log. */
const kinds: readonly (Stretch["values"] | null)[] = [
  clean,
  but(dry),
  { ...stopped, ozone: 1 },
  but({ motor_temperature: 95 }),
  null,
];
const stretch = fc.record({ minutes: fc.integer({ min: 1, max: 40 }), kind: fc.nat(kinds.length - 1) });
const day = fc.array(stretch, { minLength: 1, maxLength: 6 });

function played(id: string, stretches: readonly { minutes: number; kind: number }[]): PlayedUnit {
  const nothing: Values = {};
  const batch = readings([
    { seconds: 2700, values: clean },
    ...stretches.map(({ minutes, kind }) => ({ seconds: minutes * 60, values: kinds[kind] ?? nothing })),
  ]);
  const read = (row: number) => batch.columns.some((column) => column && !Number.isNaN(column[row]));
  const rows = Array.from({ length: batch.rows }, (_, row) => row).filter(read);
  return {
    yaml: `{ id: ${id}, runs: always, motor: { full_load_current: 9.8 A } }`,
    batch: {
      rows: rows.length,
      timeMs: Float64Array.from(rows.map((row) => batch.timeMs[row])),
      columns: batch.columns.map((column) => column && Float64Array.from(rows.map((row) => column[row]))),
    },
  };
}

async function eventLines(units: readonly PlayedUnit[]): Promise<string[]> {
  const { units: reads } = await playFleet(units);
  return inOrder(reads).map(eventLine);
}

it("a fleet's events do not hang on the order of its units, but for the order of lines of one time", async () => {
  await fc.assert(
    fc.asyncProperty(day, day, async (first, second) => {
      const a = played("LM-01", first);
      const b = played("LM-02", second);
      const forth = await eventLines([a, b]);
      const back = await eventLines([b, a]);
      expect(back.toSorted()).toEqual(forth.toSorted());
      const of = (lines: string[], id: string) => lines.filter((line) => line.includes(`"unit":"${id}"`));
      for (const id of ["LM-01", "LM-02"]) expect(of(back, id)).toEqual(of(forth, id));
      const times = (lines: string[]) => lines.map((line) => line.slice(9, 33));
      expect(times(back)).toEqual(times(forth));
    }),
    { numRuns: 25 },
  );
});
