import type { Channel } from "../terms/channels.ts";
import { second } from "../terms/time.ts";
import type { FaultKind } from "./fault-kinds.ts";
import type { InventedUnit } from "./invented-unit.ts";
import { oneOf, type Random } from "./random.ts";

const instruments: readonly Channel[] = [
  "motor_current",
  "motor_temperature",
  "suction_pressure",
  "discharge_pressure",
  "gas_pressure",
];

/** What a unit must be for a fault to show at it; a kind that is not named shows at every unit. */
const needs: Readonly<Partial<Record<FaultKind, (unit: InventedUnit, intervalMs: number) => boolean>>> = {
  "rotor-locked": (_unit, intervalMs) => intervalMs <= 2 * second,
  "protector-cycling": ({ runs }) => runs === "always",
  // A winding may be far hotter than a shell: with less air it is warm, and not too hot.
  "cooling-blocked": ({ temperatureAt }) => temperatureAt === "shell",
  "gas-feed-weak": ({ plan }) => plan.feed === "constant flow",
  "ozone-cell-off": fitted,
  "ozone-cell-fault": fitted,
  "ozone-relay-welded": (unit) => fitted(unit) && unit.runs !== "always",
  "flow-switch-stuck": fitted,
  "ozone-not-bypassed": ({ ozone }) => ozone === "bypassed",
  "ozone-leak": ({ ozone, channels }) => ozone === "fitted" && channels.includes("ozone_in_air"),
  frost: ({ runs, channels }) => runs !== "always" && channels.includes("ambient_temperature"),
};

function fitted({ ozone }: InventedUnit): boolean {
  return ozone === "fitted";
}

/** Whether a fault can show at a unit whose logger reads every `intervalMs`. */
export function canHappen(kind: FaultKind, unit: InventedUnit, intervalMs: number): boolean {
  return needs[kind]?.(unit, intervalMs) ?? true;
}

/** The instrument that a fault of an instrument takes; undefined for other faults. */
export function channelFor(kind: FaultKind, unit: InventedUnit, random: Random): Channel | undefined {
  if (!kind.startsWith("sensor-")) return undefined;
  return oneOf(
    instruments.filter((channel) => unit.channels.includes(channel)),
    random,
  );
}
