import { expect, it } from "vitest";
import { greatCircleKm } from "../../src/physics/great-circle.ts";

it("a degree of the equator and of a meridian is 111.195 km on a sphere of 6371.0088 km", () => {
  const degreeKm = (2 * Math.PI * 6371.0088) / 360;
  expect(greatCircleKm([0, 0], [0, 1])).toBeCloseTo(degreeKm, 6);
  expect(greatCircleKm([41, -93], [42, -93])).toBeCloseTo(degreeKm, 6);
});

it("Nashville to Los Angeles airport is 2887.26 km at a radius of 6372.8 km (Rosetta Code, Haversine formula)", () => {
  const km = greatCircleKm([36.12, -86.67], [33.94, -118.4]);
  expect((km * 6372.8) / 6371.0088).toBeCloseTo(2887.26, 2);
});

it("the other side of the Earth is half its girth away", () => {
  expect(greatCircleKm([10, 20], [-10, -160])).toBeCloseTo(Math.PI * 6371.0088, 3);
});
