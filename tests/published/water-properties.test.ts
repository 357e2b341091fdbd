import { describe, expect, test } from "vitest";
import {
  dynamicViscosityPaS,
  kinematicViscosityM2S,
  saturationPressureKpa,
  waterDensityKgM3,
} from "../../src/physics/water.ts";

const relative = (value: number, printed: number) => Math.abs(value / printed - 1);

describe("the pressure at which water boils", () => {
  // IAPWS R7-97(2012), Industrial Formulation 1997, Table 35, printed in MPa.
  test.each([
    [300, 0.353658941e-2],
    [500, 0.263889776e1],
    [600, 0.123443146e2],
  ])("at %d K is %d MPa (IAPWS-IF97, Table 35)", (kelvin, printed) => {
    expect(relative(saturationPressureKpa(kelvin - 273.15) / 1000, printed)).toBeLessThan(1e-8);
  });

  // The same release, Table 36: the boiling temperature of a pressure.
  test.each([
    [372.755919, 100],
    [453.035632, 1000],
    [584.149488, 10_000],
  ])("at %d K is %d kPa (IAPWS-IF97, Table 36)", (kelvin, printed) => {
    expect(relative(saturationPressureKpa(kelvin - 273.15), printed)).toBeLessThan(1e-7);
  });

  // NIST-based steam tables, kPa; they rest on IAPWS-95, which lies up to 0.007 % higher.
  test.each([
    [0.01, 0.612],
    [10, 1.228],
    [20, 2.339],
    [25, 3.17],
    [30, 4.247],
    [40, 7.385],
    [50, 12.352],
  ])("at %d °C is %d kPa (steam tables)", (temperatureC, printed) => {
    expect(Math.abs(saturationPressureKpa(temperatureC) - printed)).toBeLessThanOrEqual(0.001);
  });

  test("at the triple point is 611.657 Pa (A. Wexler, J. Res. NBS 80A, 1976)", () => {
    expect(saturationPressureKpa(0.01) * 1000).toBeCloseTo(611.657, 2);
  });

  test("agrees from 0 to 40 °C within 0.1 % with A. L. Buck's formula (J. Appl. Meteorol. 20, 1981; 1996 form)", () => {
    for (let t = 0; t <= 40; t++) {
      const buckKpa = 0.61121 * Math.exp(((18.678 - t / 234.5) * t) / (257.14 + t));
      expect(relative(saturationPressureKpa(t), buckKpa)).toBeLessThan(1e-3);
    }
  });
});

describe("the density of water", () => {
  // M. Tanaka et al., Metrologia 38 (2001) 301–309, kg/m³.
  test.each([
    [0, 999.8428],
    [10, 999.7027],
    [15, 999.1026],
    [20, 998.2067],
    [30, 995.6488],
  ])("at %d °C is %d kg/m³ (Tanaka 2001)", (temperatureC, printed) => {
    expect(Math.abs(waterDensityKgM3(temperatureC) - printed)).toBeLessThan(5e-4);
  });

  const kell = (t: number) =>
    (999.83952 +
      t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))))) /
    (1 + 16.87985e-3 * t);

  test("agrees from 0 to 40 °C within 0.004 kg/m³ with G. S. Kell, J. Chem. Eng. Data 20 (1975), valid to 150 °C", () => {
    expect(kell(20)).toBeCloseTo(998.2041, 3);
    for (let t = 0; t <= 40; t++) expect(Math.abs(waterDensityKgM3(t) - kell(t))).toBeLessThan(0.004);
  });

  test("stays within 0.03 % of Kell's up to 100 °C, where a pump without flow can bring its water", () => {
    for (let t = 40; t <= 100; t++) expect(relative(waterDensityKgM3(t), kell(t))).toBeLessThan(3e-4);
  });
});

describe("the viscosity of water", () => {
  // Chemical engineers' handbook, Table 2-135: saturated liquid, µPa·s.
  test.each([
    [273.16, 1791.2],
    [280, 1433.7],
    [290, 1084],
    [300, 853.84],
    [310, 693.54],
  ])("at %d K is %d µPa·s (handbook table, saturated liquid)", (kelvin, printed) => {
    expect(relative(dynamicViscosityPaS(kelvin - 273.15) * 1e6, printed)).toBeLessThan(5e-4);
  });

  // IAPWS R12-08 prints 889.735100 µPa·s at 298.15 K and 998 kg/m³, 0.1 % denser than at 0.1 MPa.
  test("at 25 °C is within 0.05 % of 889.7351 µPa·s (IAPWS R12-08, check value)", () => {
    expect(relative(dynamicViscosityPaS(25) * 1e6, 889.7351)).toBeLessThan(5e-4);
  });

  // Appendix tables of fluid mechanics textbooks: kinematic, 10⁻⁶ m²/s. Older tables differ by up to 0.7 %.
  test.each([
    [0, 1.787],
    [10, 1.307],
    [20, 1.004],
    [30, 0.801],
    [40, 0.658],
  ])("at %d °C is %d mm²/s (textbook tables)", (temperatureC, printed) => {
    expect(relative(kinematicViscosityM2S(temperatureC) * 1e6, printed)).toBeLessThan(3e-3);
  });
});
