import { fullLoadCurrentA } from "../physics/full-load-current.ts";
import { iso } from "../terms/time.ts";
import { elevationM } from "./invent-unit.ts";
import type { InventedUnit } from "./invented-unit.ts";
import type { Invention } from "./invention.ts";
import { npshRequiredM, shutoffHeadM } from "./skid.ts";

/** How the file of an invented fleet begins: what tells it from a fleet that somebody has. */
export const fleetFileMark = "# An invented fleet";

/** The fleet file of an invented fleet, as a technician would write it. */
export function inventedFleetFile(units: readonly InventedUnit[], invention: Invention): string {
  const services = serviceRows(units).map(
    ([unit, kind, at]) => `  - { unit: ${unit}, kind: ${kind}, at: ${at} }`,
  );
  return `${fleetFileMark}: no such sites exist. Made by simulate, seed ${invention.seed}.
fleet: Invented waters
timezone: UTC
logs: logs

defaults:
  motor: { service_factor: 1.0, insulation_class: B, temperature_at: shell }
  gas: { feed: constant flow, injected: discharge }
  elevation: ${elevationM} m
${services.length === 0 ? "" : `\nservices:\n${services.join("\n")}\n`}
units:
${units.flatMap(unitLines).join("\n")}
`;
}

/** `unit,kind,at` of every record, oldest first. */
export function serviceRows(units: readonly InventedUnit[]): (readonly [string, string, string])[] {
  return units
    .flatMap(({ id, services }) => services.map((record) => ({ id, ...record })))
    .sort((a, b) => a.atMs - b.atMs)
    .map(({ id, work, step, atMs }) => [id, `${work} ${step}`, iso(atMs)] as const);
}

function unitLines({ id, site, plan, ...unit }: InventedUnit): string[] {
  const current = fullLoadCurrentA(plan.horsepower, plan.voltageV);
  const winding = unit.temperatureAt === "winding" ? ", temperature_at: winding" : "";
  const runs = unit.runs === "always" ? "always" : `[${unit.runs.map((window) => `"${window}"`).join(", ")}]`;
  return [
    `  - id: ${id}`,
    `    site: ${site}`,
    `    runs: ${runs}`,
    `    consequence: ${unit.consequence}`,
    `    ozone: ${unit.ozone}`,
    ...(unit.sharedOutlet ? ["    logger_power: same outlet"] : []),
    `    motor: { full_load_current: ${current} A, voltage: ${plan.voltageV} V${winding} }`,
    `    pump: { shutoff_head: ${shutoffHeadM(plan.horsepower)} m, npsh_required: ${npshRequiredM} m, type: radial }`,
    `    piping: { suction_lift: ${plan.liftM.toFixed(2)} m, suction_length: ${plan.suctionLengthM.toFixed(1)} m, inside_diameter: ${plan.boreM * 1000} mm, check_valve: ${plan.checkValve} }`,
    ...(plan.feed === "regulated" ? ["    gas: { feed: regulated, injected: discharge }"] : []),
  ];
}
