import { gravityMS2, zeroCelsiusK } from "./constants.ts";
import { power } from "./power.ts";

/** Pressure of one metre of water at 20 °C, kPa (998.2067 kg/m³, Tanaka 2001). */
export const kpaPerMetre = 9.78906;

/**
 * Absolute pressure at which water boils, kPa, at a temperature in °C: 0.01 to 373.946 °C.
 *
 * Source: IAPWS R7-97(2012), Industrial Formulation 1997, region 4, equation 30.
 */
export function saturationPressureKpa(temperatureC: number): number {
  const kelvin = temperatureC + zeroCelsiusK;
  const theta = kelvin - 0.23855557567849 / (kelvin - 650.17534844798);
  const a = (theta + 1167.0521452767) * theta - 724213.16703206;
  const b = (-17.073846940092 * theta + 12020.82470247) * theta - 3232555.0322333;
  const c = (14.91510861353 * theta - 4823.2657361591) * theta + 405113.40542057;
  const root = (2 * c) / (-b + Math.sqrt(b * b - 4 * a * c));
  return root * root * root * root * 1000;
}

/**
 * Density of air-free water at 1 atm, kg/m³, at a temperature in °C.
 *
 * Fitted for 0 to 40 °C, and within 0.03 % up to 100 °C. Source: M. Tanaka et al., Metrologia 38 (2001) 301–309.
 */
export function waterDensityKgM3(temperatureC: number): number {
  const fromDensest = temperatureC - 3.983035;
  const bend =
    (fromDensest * fromDensest * (temperatureC + 301.797)) / (522528.9 * (temperatureC + 69.34881));
  return 999.97495 * (1 - bend);
}

/** Pressure of one metre of water, kPa, at a temperature in °C. */
export function kpaPerMetreAt(temperatureC: number): number {
  return (waterDensityKgM3(temperatureC) * gravityMS2) / 1000;
}

/**
 * Dynamic viscosity of liquid water at 0.1 MPa, Pa·s, at a temperature in °C: −20 to 110 °C.
 *
 * Source: IAPWS SR6-08(2011).
 */
export function dynamicViscosityPaS(temperatureC: number): number {
  const reduced = (temperatureC + zeroCelsiusK) / 300;
  const micro =
    280.68 * power(reduced, -1.9) +
    511.45 * power(reduced, -7.7) +
    61.131 * power(reduced, -19.6) +
    0.45903 * power(reduced, -40);
  return micro / 1e6;
}

/** Kinematic viscosity of water, m²/s, at a temperature in °C. */
export function kinematicViscosityM2S(temperatureC: number): number {
  return dynamicViscosityPaS(temperatureC) / waterDensityKgM3(temperatureC);
}
