import { expect, it } from "vitest";
import { type Day, walk } from "../../../src/advise/route/day.ts";
import { betterThan } from "../../../src/advise/route/moves.ts";

/** Five places on the way round a square of 10 min a side, driven in an order; the day begins at a corner. */
const corners = [
  [0, 0],
  [10, 0],
  [10, 5],
  [10, 10],
  [0, 10],
];
const day: Day = {
  stops: corners.slice(1).map(() => ({ units: ["due"], thereMin: 0, opensMin: 0, closesMin: 1440 })),
  driveMin: corners.map(([x, y]) => corners.map(([toX, toY]) => Math.hypot(x - toX, y - toY))),
  startMin: 480,
  untilMin: 1020,
};

it("a reversal uncrosses two drives, a move takes a stop to where it lies on the way, turned where that is shorter", () => {
  const crossed = betterThan(day, walk(day, [0, 2, 1, 3]));
  expect(crossed({ from: 1, to: 3, into: 1, turned: true })).toEqual([0, 1, 2, 3]);
  expect(crossed({ from: 0, to: 2, into: 1, turned: false })).toBeNull();
  const astray = betterThan(day, walk(day, [1, 2, 3, 0]));
  expect(astray({ from: 3, to: 4, into: 0, turned: false })).toEqual([0, 1, 2, 3]);
  const apart = betterThan(day, walk(day, [3, 0, 1, 2]));
  expect(apart({ from: 1, to: 3, into: 2, turned: true })).toEqual([3, 2, 1, 0]);
  expect(apart({ from: 1, to: 3, into: 2, turned: false })).toEqual([3, 2, 0, 1]);
});
