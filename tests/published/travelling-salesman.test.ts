import { describe, expect, it } from "vitest";
import type { Day } from "../../src/advise/route/day.ts";
import { exactRoute } from "../../src/advise/route/exact.ts";
import { searchedRoute } from "../../src/advise/route/local-search.ts";

/**
 * Instances and optima of TSPLIB (G. Reinelt, "TSPLIB: a traveling salesman problem library", ORSA Journal on Computing 3,
 * 1991; TSPLIB 95, files burma14.tsp and ulysses22.tsp, read in copies): degrees and minutes written DDD.MM, and its own
 * distance GEO in whole km.
 */
const burma14 = [
  [16.47, 96.1],
  [16.47, 94.44],
  [20.09, 92.54],
  [22.39, 93.37],
  [25.23, 97.24],
  [22.0, 96.05],
  [20.47, 97.02],
  [17.2, 96.29],
  [16.3, 97.38],
  [14.05, 98.12],
  [16.53, 97.38],
  [21.52, 95.59],
  [19.41, 97.13],
  [20.09, 94.55],
];
const ulysses22 = [
  [38.24, 20.42],
  [39.57, 26.15],
  [40.56, 25.32],
  [36.26, 23.12],
  [33.48, 10.54],
  [37.56, 12.19],
  [38.42, 13.11],
  [37.52, 20.44],
  [41.23, 9.1],
  [41.17, 13.05],
  [36.08, -5.21],
  [38.47, 15.13],
  [38.15, 15.35],
  [37.51, 15.17],
  [35.49, 14.32],
  [39.36, 19.56],
  [38.09, 24.36],
  [36.09, 23.0],
  [40.44, 13.57],
  [40.33, 14.15],
  [40.37, 14.23],
  [37.57, 22.56],
];

function radians(coordinate: number): number {
  const degrees = Math.trunc(coordinate);
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: TSPLIB gives its own pi, and the optimum rests on it.
  return (3.141592 * (degrees + (5 * (coordinate - degrees)) / 3)) / 180;
}

function geo(a: readonly number[], b: readonly number[]): number {
  const [aLatitude, aLongitude] = a.map(radians);
  const [bLatitude, bLongitude] = b.map(radians);
  const q1 = Math.cos(aLongitude - bLongitude);
  const q2 = Math.cos(aLatitude - bLatitude);
  const q3 = Math.cos(aLatitude + bLatitude);
  return Math.trunc(6378.388 * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1);
}

/** A tour from the first city, a kilometre a minute, without a night. */
function tour(cities: readonly (readonly number[])[]): Day {
  return {
    stops: cities.slice(1).map(() => ({ units: ["due"], thereMin: 0, opensMin: 0, closesMin: 1e6 })),
    driveMin: cities.map((a) => cities.map((b) => (a === b ? 0 : geo(a, b)))),
    startMin: 0,
    untilMin: 1e6,
  };
}

describe("the shortest tours of TSPLIB", () => {
  it("burma14 is 3323, found exactly", () => {
    expect(exactRoute(tour(burma14))).toMatchObject({ driveMin: 3323, left: [] });
  });

  it("ulysses22 is 7013, which the search for many stops finds too", () => {
    expect(searchedRoute(tour(ulysses22))).toMatchObject({ driveMin: 7013, left: [] });
  });
});
