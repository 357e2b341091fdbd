import type { Unit } from "../fleet/unit.ts";

/** Why the rules of a fitted ozone cell are quiet at a unit; undefined where they are not. */
export function ozoneFitted(unit: Unit): string | undefined {
  return unit.ozone === "bypassed" || unit.ozone === "none" ? `ozone is ${unit.ozone} here` : undefined;
}
