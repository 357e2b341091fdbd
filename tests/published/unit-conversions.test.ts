import { describe, expect, test } from "vitest";
import { toStored } from "../../src/fleet/units.ts";

/**
 * Source: A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units (SI), NIST
 * Special Publication 811 (2008), appendix B.8, "Factors for units listed alphabetically", to all the
 * digits printed there; the printed digits are quoted from memory.
 */
describe("units convert as NIST SP 811 lists them", () => {
  test.each<[string, string, number, string]>([
    ["psi", "kPa", 6.894757, "pound-force per square inch"],
    ["bar", "kPa", 100, "bar (exact)"],
    ["mbar", "kPa", 0.1, "millibar (exact)"],
    ["inHg", "kPa", 3.386389, "inch of mercury, conventional"],
    ["mmHg", "kPa", 0.1333224, "millimetre of mercury, conventional"],
    ["inH2O", "kPa", 0.2490889, "inch of water, conventional"],
    ["ftH2O", "kPa", 2.989067, "foot of water, conventional"],
    ["ft", "m", 0.3048, "foot (exact)"],
    ["in", "m", 0.0254, "inch (exact)"],
    ["gpm", "L/min", 6.30902e-5 * 60_000, "gallon (US) per minute, in m³/s"],
    ["cfm", "L/min", 4.719474e-4 * 60_000, "cubic foot per minute, in m³/s"],
    ["hp", "W", 745.6999, "horsepower (550 ft·lbf/s)"],
    ["m/s2", "g", 1 / 9.80665, "acceleration of free fall, standard (exact)"],
    ["fl oz", "mL", 29.57353, "ounce (US fluid)"],
    ["F", "K", 5 / 9, "degree Fahrenheit, a difference"],
  ])("1 %s is that many %s: %d (%s)", (unit, stored, factor) => {
    const conversion = toStored(unit, stored);
    expect(conversion?.offset).toBe(0);
    expect((conversion?.factor ?? Number.NaN) / factor).toBeCloseTo(1, 6);
  });

  test.each([
    [32, 0],
    [212, 100],
    [-40, -40],
    [130, 54.444444],
  ])("%d °F is %d °C: t/°C = (t/°F − 32)/1.8", (fahrenheit, celsius) => {
    const { factor, offset } = toStored("°F", "°C") ?? { factor: Number.NaN, offset: 0 };
    expect(fahrenheit * factor + offset).toBeCloseTo(celsius, 6);
  });
});
