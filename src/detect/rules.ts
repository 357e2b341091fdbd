import type { ZodType } from "zod";
import type { AlarmName } from "../terms/alarms.ts";
import { cavitation } from "./cavitation.ts";
import { clockSettings } from "./clock-fault.ts";
import { dischargeOpen } from "./discharge-open.ts";
import { dischargeRestricted } from "./discharge-restricted.ts";
import { failedToPrime } from "./failed-to-prime.ts";
import { freezeRisk } from "./freeze-risk.ts";
import { gasBackflowRisk } from "./gas-backflow-risk.ts";
import { gasPressureDrift } from "./gas-pressure-drift.ts";
import { gasSupplyLow } from "./gas-supply-low.ts";
import { impellerFouled } from "./impeller-fouled.ts";
import { lockedRotor } from "./locked-rotor.ts";
import { lostPrime } from "./lost-prime.ts";
import { notRunning } from "./not-running.ts";
import { overcurrent } from "./overcurrent.ts";
import { overheating } from "./overheating.ts";
import { ozoneInAir } from "./ozone-in-air.ts";
import { ozoneNotAllowed } from "./ozone-not-allowed.ts";
import { ozoneOff } from "./ozone-off.ts";
import { ozoneWhileStopped } from "./ozone-while-stopped.ts";
import { ozoneWithoutWater } from "./ozone-without-water.ts";
import { staleSettings } from "./readings-stale.ts";
import type { CommonSettings, Rule } from "./rule.ts";
import { sensorFault } from "./sensor-fault.ts";
import { overdueSettings } from "./service-overdue.ts";
import { shortCycling } from "./short-cycling.ts";
import { suctionAir } from "./suction-air.ts";
import { suctionRestricted } from "./suction-restricted.ts";
import { unusualRunning } from "./unusual-running.ts";

/** A rule whose settings and memory only it knows. */
export type AnyRule = Rule<CommonSettings, unknown>;

/** Every rule that judges the skid, in the order of the alarms. A rule is one file and one line here. */
const processRules = [
  lostPrime,
  failedToPrime,
  cavitation,
  suctionRestricted,
  suctionAir,
  dischargeRestricted,
  dischargeOpen,
  impellerFouled,
  overheating,
  overcurrent,
  lockedRotor,
  notRunning,
  shortCycling,
  gasPressureDrift,
  gasSupplyLow,
  gasBackflowRisk,
  ozoneOff,
  ozoneWhileStopped,
  ozoneWithoutWater,
  ozoneNotAllowed,
  ozoneInAir,
  unusualRunning,
  freezeRisk,
] as unknown as readonly AnyRule[];

/** Every rule over columns: those of the skid, and what tells which of them have lost an instrument. */
export const rules: readonly AnyRule[] = [...processRules, sensorFault(processRules) as unknown as AnyRule];

/** The schema of each alarm's settings under `limits` in the fleet file. */
export const ruleSettings: Readonly<Partial<Record<AlarmName, ZodType>>> = {
  ...Object.fromEntries(rules.map((rule) => [rule.alarm, rule.settings])),
  "readings-stale": staleSettings,
  "clock-fault": clockSettings,
  "service-overdue": overdueSettings,
};
