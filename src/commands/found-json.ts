import type { Found } from "../fleet/found.ts";
import { iso } from "../terms/time.ts";

/** The last test of a ground-fault device, where it did not trip; else null. */
export function groundFaultJson(found: Found | undefined): unknown {
  if (found?.noTrip === undefined) return null;
  const { atMs, by = null } = found.noTrip;
  return { test: "did not trip", at: iso(atMs), by };
}
