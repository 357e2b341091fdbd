import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { newOrder, type OrderState, orderRow, type Placed, releaseHeld } from "../../src/acquire/order.ts";
import { throughText } from "../support/through-text.ts";

const none = Number.NaN;

function run(rows: readonly (readonly [number, ...number[]])[], withinMs = 0, checkpointAfter = -1) {
  let state: OrderState = newOrder();
  const out: number[][] = [];
  const placed: Placed[] = [];
  const emit = (timeMs: number, values: ArrayLike<number>) => out.push([timeMs, ...Array.from(values)]);
  for (const [i, [timeMs, ...values]] of rows.entries()) {
    placed.push(orderRow(state, withinMs, timeMs, values, emit));
    if (i === checkpointAfter) state = throughText(state);
  }
  const beforeRelease = out.length;
  releaseHeld(state, emit);
  return { out, placed, beforeRelease };
}

describe("order of a unit's rows", () => {
  it("counts a row of the same time and values as a repeat and emits it once", () => {
    expect(
      run([
        [1, 5, none],
        [1, 5, none],
        [2, 6, none],
      ]),
    ).toMatchObject({
      out: [
        [1, 5, none],
        [2, 6, none],
      ],
      placed: ["taken", "repeat", "taken"],
    });
  });

  it("joins a row of the same time with other channels by emitting both rows' values", () => {
    expect(
      run([
        [1, 5, none],
        [1, none, 80],
      ]),
    ).toMatchObject({
      out: [
        [1, 5, none],
        [1, 5, 80],
      ],
      placed: ["taken", "joined"],
    });
  });

  it("lets the first of two rows with one time and other values stay", () => {
    expect(
      run([
        [1, 5, 80],
        [1, 6, 80],
        [1, 5, 80],
      ]),
    ).toMatchObject({
      out: [[1, 5, 80]],
      placed: ["taken", "conflict", "repeat"],
    });
  });

  it("calls a row late that is older than the newest", () => {
    expect(
      run([
        [5, 1],
        [4, 2],
        [6, 3],
      ]),
    ).toMatchObject({
      out: [
        [5, 1],
        [6, 3],
      ],
      placed: ["taken", "late", "taken"],
    });
  });

  it("holds rows back for order_within and releases them in order", () => {
    const { out, placed, beforeRelease } = run(
      [
        [10, 1],
        [8, 2],
        [12, 3],
        [9, 4],
        [15, 5],
        [11, 6],
      ],
      3,
    );
    expect(placed).toEqual(["taken", "taken", "taken", "taken", "taken", "late"]);
    expect(out.map(([t]) => t)).toEqual([8, 9, 10, 12, 15]);
    expect(beforeRelease).toBe(4);
  });

  it("takes a row exactly order_within older than the newest, in order", () => {
    expect(
      run(
        [
          [10, 1],
          [7, 2],
          [20, 3],
          [17, 4],
        ],
        3,
      ),
    ).toMatchObject({
      out: [
        [7, 2],
        [10, 1],
        [17, 4],
        [20, 3],
      ],
      placed: ["taken", "taken", "taken", "taken"],
    });
  });

  it("finds repeats, other channels and other values among held rows too", () => {
    expect(
      run(
        [
          [10, 1, none],
          [10, 1, none],
          [10, none, 7],
          [10, 2, none],
        ],
        5,
      ),
    ).toMatchObject({
      out: [[10, 1, 7]],
      placed: ["taken", "repeat", "joined", "conflict"],
    });
  });

  it("goes on from a checkpoint as if nothing had happened", () => {
    const rows: [number, number, number][] = [
      [10, 1, none],
      [8, 2, none],
      [8, none, 3],
      [12, 4, none],
      [9, 5, none],
      [20, 6, none],
    ];
    for (const withinMs of [0, 3]) {
      const whole = run(rows, withinMs);
      for (let cut = 0; cut < rows.length; cut++) expect(run(rows, withinMs, cut)).toEqual(whole);
    }
  });

  it("comes out in order, nothing late, for every interleaving that delays no row by more than order_within", () => {
    // Each row arrives at its time and a delay of at most order_within: that is every such interleaving.
    const delayed = fc.array(fc.tuple(fc.nat(60), fc.nat(10)), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(delayed, (made) => {
        const rows = [...new Map(made.map((row) => [row[0], row])).values()];
        const arriving = rows.toSorted((a, b) => a[0] + a[1] - (b[0] + b[1]));
        const { out, placed } = run(
          arriving.map(([timeMs]) => [timeMs, timeMs % 7] as const),
          10,
        );
        expect(out).toEqual(rows.map(([timeMs]) => [timeMs, timeMs % 7]).sort((a, b) => a[0] - b[0]));
        expect(placed.every((what) => what === "taken")).toBe(true);
      }),
      { numRuns: 5000 },
    );
  });

  it("goes on from any checkpoint, also with values missing and loops in failure, low or high", () => {
    const value = fc.constantFrom(none, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, 5, 6);
    const rows = fc.array(fc.tuple(fc.integer({ min: 0, max: 8 }), value, value), {
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(rows, fc.integer({ min: 0, max: 4 }), fc.nat(11), (made, withinMs, cut) => {
        expect(run(made, withinMs, cut)).toEqual(run(made, withinMs));
      }),
    );
  });
});
