import { fullLoadCurrentA } from "../physics/full-load-current.ts";
import { kpaPerMetre } from "../physics/water.ts";
import { iso, minute } from "../terms/time.ts";
import { demoFormats } from "./demo-formats.ts";
import { demoSites } from "./demo-sites.ts";
import type { DemoUnit } from "./demo-unit.ts";
import { demoUnits } from "./demo-units.ts";
import type { LogColumn } from "./log-format.ts";
import { demoTimezone, recordedFromMs } from "./recorded-day.ts";
import { ratedDuty, shutoffHeadM, usualLoad } from "./skid.ts";

/** A technician notes the visit before switching off, and stays to see the unit run. */
const arrivedMs = minute;
const watchedMs = 6 * minute;

/** The fleet file of the demo fleet, as a technician would write it. */
export function demoFleetFile(): string {
  const units = demoSites.map((site) => {
    const own = demoUnits.filter((unit) => unit.site === site.name);
    return [`  # ${site.name}`, ...own.flatMap(unitLines)].join("\n");
  });
  return `${head()}\n\nunits:\n${units.join("\n\n")}\n`;
}

function head(): string {
  const sites = demoSites.flatMap((site) => [
    `  ${site.name}:`,
    `    position: [${site.position.join(", ")}]`,
    `    customer: ${site.customer}`,
    `    access: ${site.access}`,
    `    working_hours: "${site.workingHours}"`,
  ]);
  const services = demoUnits.flatMap((unit) =>
    (unit.stops ?? []).flatMap((stop) => [
      `  - { unit: ${unit.id}, kind: repair begin, at: ${second(stop.fromMs - arrivedMs)} }`,
      `  - { unit: ${unit.id}, kind: repair end, at: ${second(stop.toMs + watchedMs)} }`,
    ]),
  );
  return `# An invented fleet: no such sites, ponds or customers exist.
fleet: Wrenfold ponds
timezone: ${demoTimezone}      # some loggers write local time
display: us                    # what people see; logs keep their own units
logs: logs

defaults:
  sample_interval: 30 s
  motor: { service_factor: 1.0, insulation_class: B, temperature_at: shell }
  piping: { inside_diameter: 1.61 in, discharge_length: 18 ft, check_valve: false }
  gas: { feed: constant flow, injected: discharge }
  supply: { circuit: 15 A, wire: 14 AWG, run_length: 30 ft, overload: built in, ozone_load: 0.3 A, gas_load: 0.6 A, heater_load: 0.4 A, logger_load: 0.1 A }
  water: { coldest: 36 degF, warmest: 81 degF, falls: 1 ft, rises: 6 in }
  discharge_depth: 6 ft
  elevation: 290 m
  service: { inspection_every: 30 d, cleaning_every: 30 d }

sites:
${sites.join("\n")}

services:
${services.join("\n")}`;
}

function unitLines(unit: DemoUnit): string[] {
  const current = fullLoadCurrentA(unit.horsepower, unit.voltageV);
  const winding = unit.temperatureAt === "winding" ? ", temperature_at: winding" : "";
  const valve = unit.checkValve ? ", check_valve: true" : "";
  const duty = ratedDuty(unit.horsepower);
  const lines = [
    `- id: ${unit.id}${unit.remark === undefined ? "" : `    # ${unit.remark}`}`,
    `  site: ${unit.site}`,
    ...(unit.kept === "delivered" ? ["  arrives_every: 30 min"] : []),
    `  runs: ${unit.runs === "always" ? "always" : `[${unit.runs.map((window) => `"${window}"`).join(", ")}]`}`,
    ...(unit.season === undefined ? [] : [`  season: ${unit.season}`]),
    `  consequence: ${unit.consequence}`,
    `  ozone: ${unit.ozone}`,
    ...(unit.sharedOutlet === true ? ["  logger_power: same outlet"] : []),
    `  motor: { full_load_current: ${current} A, voltage: ${unit.voltageV} V${winding} }`,
    `  pump: { shutoff_head: ${shutoffHeadM(unit.horsepower)} m, rated_flow: ${duty.flowLpm} L/min, rated_head: ${duty.headM} m, npsh_required: 2.5 m, motor_load: ${100 * usualLoad} % }`,
    `  piping: { suction_lift: ${unit.liftFt} ft, suction_length: ${unit.suctionFt} ft${valve} }`,
    `  generator: { flow: ${duty.flowLpm} L/min, pressure: ${generatorKpa(duty.headM)} kPa }`,
    ...(current > 12 ? ["  supply: { circuit: 20 A, wire: 12 AWG }"] : []),
    ...columnLines(unit),
    ...(unit.id === "OX-01" ? [`  baseline: { from: ${second(recordedFromMs)}, for: 4 h }`] : []),
  ];
  return lines.map((line) => `  ${line}`);
}

/** The generator is sized to take what the pipes, which take a metre or so, leave of the pump's head. */
function generatorKpa(headM: number): number {
  return 5 * Math.round(((headM - 1) * kpaPerMetre) / 5);
}

function columnLines(unit: DemoUnit): string[] {
  if (unit.format !== "ownHeaders") return [];
  const format = demoFormats[unit.format];
  const columns: readonly LogColumn[] = format.columns;
  return [
    "  columns:",
    `    time: ${format.timeHeader}`,
    ...columns.map((column) => `    ${column.channel}: ${source(column)}`),
  ];
}

function source({ header, unit, vacuum, loop }: LogColumn): string {
  if (loop !== undefined)
    return `{ column: ${header}, unit: mA, range: [4, 20], scale: [${loop.join(", ")}] }`;
  if (unit === undefined) return header;
  return `{ column: ${header}, unit: ${unit}${vacuum === true ? ", vacuum: true" : ""} }`;
}

/** RFC 3339 to the second. */
function second(timeMs: number): string {
  return iso(timeMs).replace(".000Z", "Z");
}
