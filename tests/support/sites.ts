import type { Measured } from "../../src/site/installation.ts";
import { judgeSite, type SiteReport } from "../../src/site/judge.ts";
import { amountsIn, type Line } from "../../src/site/line.ts";
import { fleetFile } from "./fleets.ts";
import { fleetOf } from "./played.ts";

type Key =
  | "motor"
  | "pump"
  | "generator"
  | "piping"
  | "supply"
  | "water"
  | "elevation"
  | "discharge_depth"
  | "commissioning";

/** A skid of which everything is known, at sea level, so that every line is judged and passes. */
export const known: Readonly<Record<Key, string>> = {
  motor: "{ full_load_current: 9.8 A, voltage: 115 V, service_factor: 1 }",
  pump: "{ shutoff_head: 15 m, rated_flow: 75 L/min, rated_head: 11 m, npsh_required: 2.5 m, motor_load: 84 %, air_handling: 20 L/min }",
  generator: "{ flow: 75 L/min, pressure: 98 kPa }",
  piping:
    "{ suction_lift: 4 ft, suction_length: 15 ft, discharge_length: 18 ft, inside_diameter: 1.61 in, check_valve: false, material: plastic, suction_fittings: { elbow: 2 }, discharge_fittings: { elbow: 3 } }",
  supply:
    "{ circuit: 15 A, wire: 14 AWG, run_length: 30 ft, overload: 10 A, ozone_load: 0.3 A, gas_load: 0.6 A, heater_load: 0.4 A, logger_load: 0.1 A }",
  water: "{ coldest: 2 degC, warmest: 27 degC, falls: 30 cm }",
  elevation: "0 m",
  discharge_depth: "6 ft",
  commissioning: "{ motor_current: 9.2 A, suction_pressure: -14 kPa, discharge_pressure: 93 kPa }",
};

/** The report of a unit with these keys in flow style. */
export function reportOf(keys: Readonly<Record<string, string>>, display: "si" | "us" = "si"): SiteReport {
  const written = Object.entries(keys).map(([key, value]) => `, ${key}: ${value}`);
  const [unit] = fleetOf(fleetFile([`{ id: LM-01${written.join("")} }`]), "/nowhere").units;
  const record = Object.entries(unit.commissioning?.values ?? {});
  const measured = Object.fromEntries(record.map(([name, value]) => [name, { value, from: "record" }]));
  return judgeSite(unit, measured as Measured, amountsIn(display));
}

/** The report of the known skid with some keys exchanged or, where they are empty, left out. */
export function knownBut(keys: Readonly<Record<string, string>> = {}): SiteReport {
  const all = Object.entries({ ...known, ...keys }).filter(([, value]) => value !== "");
  return reportOf(Object.fromEntries(all));
}

/** `text` with `from` exchanged for `to`; throws where it is not there. */
export function but(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`'${from}' is not in ${text}`);
  return text.replace(from, to);
}

export function lineOf({ lines }: SiteReport, check: string): Line {
  const line = lines.find((one) => one.check === check);
  if (line === undefined) throw new Error(`no line '${check}'`);
  return line;
}
