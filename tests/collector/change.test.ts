import { deserialize, serialize } from "node:v8";
import fc from "fast-check";
import { expect, it } from "vitest";
import { changeBetween, changed } from "../../src/collector/change.ts";

const bare = fc.oneof(
  fc.integer({ min: 0, max: 3 }),
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, null, undefined, true, "", "LM-01"),
);
const { data } = fc.letrec((tie) => ({
  data: fc.oneof(
    { maxDepth: 4 },
    bare,
    fc.array(tie("data"), { maxLength: 4 }),
    fc.dictionary(fc.constantFrom("id", "value", "0", "1", "constructor"), tie("data"), { maxKeys: 4 }),
  ),
}));

it("what has changed makes of any view the next one, also after it went to another process", () => {
  fc.assert(
    fc.property(data, data, (before, now) => {
      const change = deserialize(serialize({ change: changeBetween(before, now) })).change;
      expect(change === undefined ? before : changed(before, change)).toEqual(now);
    }),
    { numRuns: 2000 },
  );
});

it("says nothing of what is alike, and leaves what did not change as it was", () => {
  const before = {
    units: [
      { id: "LM-01", value: 9.3, normal: { low: 8.8 } },
      { id: "LM-02", value: 9.1 },
    ],
  };
  expect(changeBetween(before, structuredClone(before))).toBeUndefined();
  const now = structuredClone(before);
  now.units[0].value = 9.4;
  const change = changeBetween(before, now);
  expect(change).toEqual({ units: { 0: { value: 9.4 } } });
  const after = changed(before, change as never) as typeof before;
  expect(after).toEqual(now);
  expect(after.units[1]).toBe(before.units[1]);
  expect(before.units[0].value).toBe(9.3);
});
