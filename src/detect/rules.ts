import type { ZodType } from "zod";
import type { AlarmName } from "../terms/alarms.ts";
import { cavitation } from "./cavitation.ts";
import { dischargeOpen } from "./discharge-open.ts";
import { dischargeRestricted } from "./discharge-restricted.ts";
import { failedToPrime } from "./failed-to-prime.ts";
import { impellerFouled } from "./impeller-fouled.ts";
import { lostPrime } from "./lost-prime.ts";
import { notRunning } from "./not-running.ts";
import { overheating } from "./overheating.ts";
import { ozoneOff } from "./ozone-off.ts";
import { ozoneWhileStopped } from "./ozone-while-stopped.ts";
import { ozoneWithoutWater } from "./ozone-without-water.ts";
import { staleSettings } from "./readings-stale.ts";
import type { CommonSettings, Rule } from "./rule.ts";
import { suctionAir } from "./suction-air.ts";
import { suctionRestricted } from "./suction-restricted.ts";

/** A rule whose settings and memory only it knows. */
export type AnyRule = Rule<CommonSettings, unknown>;

/** Every rule over columns, in the order of the alarms. A rule is one file and one line here. */
export const rules = [
  lostPrime,
  failedToPrime,
  cavitation,
  suctionRestricted,
  suctionAir,
  dischargeRestricted,
  dischargeOpen,
  impellerFouled,
  overheating,
  notRunning,
  ozoneOff,
  ozoneWhileStopped,
  ozoneWithoutWater,
] as unknown as readonly AnyRule[];

/** The schema of each alarm's settings under `limits` in the fleet file. */
export const ruleSettings: Readonly<Partial<Record<AlarmName, ZodType>>> = {
  ...Object.fromEntries(rules.map((rule) => [rule.alarm, rule.settings])),
  "readings-stale": staleSettings,
};
