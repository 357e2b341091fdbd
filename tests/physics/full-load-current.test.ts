import { expect, test } from "vitest";
import { fullLoadCurrentA } from "../../src/physics/full-load-current.ts";

test("a third of a horsepower is found as 0.33 and as 1/3", () => {
  expect(fullLoadCurrentA(0.33, 115)).toBe(7.2);
  expect(fullLoadCurrentA(1 / 3, 115)).toBe(7.2);
});

test("a size between two of the table is refused", () => {
  expect(() => fullLoadCurrentA(0.6, 115)).toThrow("lists no motor of 0.6 hp");
});
