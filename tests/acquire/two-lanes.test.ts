import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { layoutOf } from "../../src/acquire/dialect.ts";
import { newRowSpace, rowCollector } from "../../src/acquire/row-collector.ts";
import { newTimeMemory } from "../../src/acquire/time.ts";
import { zoneReader } from "../../src/acquire/zone.ts";
import { channelIndex } from "../../src/terms/channels.ts";
import { decodeIn } from "./lanes.ts";
import { damage, damaged, shapes, type WrittenLog, writtenLog } from "./logger-text.ts";
import { unitWith } from "./workbench.ts";

/** Both lanes on one log in these pieces; the quick lane is wrong where they differ. */
function both({ text, shape, timezone }: WrittenLog, cuts: readonly number[] = []) {
  const bytes = Buffer.from(text);
  const places = [0, ...[...cuts].sort((a, b) => a - b), bytes.length];
  const pieces = places.slice(1).map((to, i) => bytes.subarray(places[i], to));
  const more = { columns: shape.columns, timezone };
  return { quick: decodeIn("quick", pieces, more), careful: decodeIn("careful", pieces, more) };
}

/** With `npm run soak` a thorough one. */
const share = process.env.TARNWATCH_SOAK === undefined ? 1 : 20;

describe("the quick lane reads what csv-parse reads, to the last bit", () => {
  it("in logs as loggers write them", () => {
    fc.assert(
      fc.property(writtenLog(12), (log) => {
        const { quick, careful } = both(log);
        expect(quick).toEqual(careful);
      }),
      { numRuns: 1000 * share },
    );
  });

  it("in logs with damage", () => {
    fc.assert(
      fc.property(writtenLog(6), damage, (log, hurt) => {
        const { quick, careful } = both({ ...log, text: damaged(log.text, hurt) });
        expect(quick).toEqual(careful);
      }),
      { numRuns: 1000 * share },
    );
  });

  it("in pieces of any size", () => {
    const cuts = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 8 });
    fc.assert(
      fc.property(writtenLog(8), damage, cuts, (log, hurt, parts) => {
        const text = damaged(log.text, hurt);
        const length = Buffer.byteLength(text);
        const { quick, careful } = both(
          { ...log, text },
          parts.map((part) => Math.floor(part * length)),
        );
        expect(quick).toEqual(careful);
        expect(quick).toEqual(both({ ...log, text }).careful);
      }),
      { numRuns: 700 * share },
    );
  });

  it("cut in two at every byte", () => {
    fc.assert(
      fc.property(writtenLog(3), damage, (log, hurt) => {
        const text = damaged(log.text, hurt);
        const whole = both({ ...log, text }).careful;
        for (let cut = 0; cut <= Buffer.byteLength(text); cut++) {
          const { quick, careful } = both({ ...log, text }, [cut]);
          expect(quick, `cut at ${cut}`).toEqual(whole);
          expect(careful, `cut at ${cut}`).toEqual(whole);
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe("a plain number", () => {
  const { unit } = unitWith("/nowhere");
  const layout = layoutOf(["motor_current_a", "time"], ",", unit);
  if (typeof layout === "string") throw new Error(layout);
  const signals = 16;

  /** What the quick lane alone makes of these numbers. */
  function quickly(texts: readonly string[]): number[] {
    const bytes = Buffer.from(texts.map((text) => `${text},2026-05-04T03:00:00Z\n`).join(""));
    const clock = { zone: zoneReader("UTC"), timezone: "UTC", memory: newTimeMemory() };
    const rows = rowCollector(
      newRowSpace(signals),
      layout as Exclude<typeof layout, string>,
      clock,
      () => undefined,
    );
    expect(rows.takePlain(bytes, 0, bytes.length, 1).at).toBe(bytes.length);
    const { columns, rows: count } = rows.collected();
    return [...(columns[channelIndex.motor_current] ?? [])].slice(0, count);
  }

  it("of up to 15 digits, its point anywhere, is the double that Number gives", () => {
    const digit = fc.integer({ min: 0, max: 9 });
    const number = fc
      .tuple(
        fc.constantFrom("", "-", "+"),
        fc.array(digit, { minLength: 1, maxLength: 15 }),
        fc.integer({ min: 0, max: 16 }),
      )
      .map(([sign, digits, point]) => {
        const text = digits.join("");
        return sign + (point > digits.length ? text : `${text.slice(0, point)}.${text.slice(point)}`);
      });
    fc.assert(
      fc.property(fc.array(number, { minLength: 1, maxLength: 200 }), (texts) => {
        const read = quickly(texts);
        // No reading is −0: a logger that writes it means 0.
        for (const [i, text] of texts.entries()) expect(read[i], text).toBe(Number(text) + 0);
      }),
      { numRuns: 500 },
    );
  });

  it("at the ends of what is exact is read so, and zero without a sign", () => {
    const edges = ["0", "-0", "-0.0", "+0", ".1", "-.1", "0.3", "999999999999999", ".999999999999999"];
    const more = ["0.1", "0.2", "1.005", "123456789012.345", "000000000000.01", "5.", "9007199254740.99"];
    expect(quickly([...edges, ...more])).toEqual([...edges, ...more].map((text) => Number(text) + 0));
  });
});

it("every shape of log that is tried has a quick lane in it", () => {
  for (const shape of shapes) {
    const row = shape.kinds.map(
      (kind) => ({ time: "2026-05-04T03:00:00Z", number: "9.8", status: "on", ignored: "well" })[kind],
    );
    const { unit } = unitWith("/nowhere", { columns: shape.columns });
    const layout = layoutOf(shape.header, ",", unit);
    if (typeof layout === "string") throw new Error(layout);
    const clock = { zone: zoneReader("UTC"), timezone: "UTC", memory: newTimeMemory() };
    const rows = rowCollector(newRowSpace(32), layout, clock, () => undefined);
    const bytes = Buffer.from(`${row.join(",")}\n`);
    expect(rows.takePlain(bytes, 0, bytes.length, 1)).toEqual({ at: bytes.length, line: 2 });
  }
});
