import type { Raising } from "../assess/lives.ts";
import type { Acknowledgement } from "../assess/performance.ts";
import type { Counted } from "../terms/alarms.ts";
import type { Interval } from "./intervals.ts";
import type { Permission } from "./permission.ts";
import type { UnitReport } from "./unit-report.ts";

/** Where ozone is fed, and what allows it there. */
export interface SitePermission {
  /** Null of units without a site. */
  readonly site: string | null;
  readonly units: readonly string[];
  readonly permission: Permission;
}

/** All that a report tells of a fleet, or a part of it, over a period. Plain data but for the spans. */
export interface FleetReport {
  readonly fleet: string;
  readonly timezone: string;
  readonly display: "si" | "us";
  /** The customers of the sites, as the fleet file names them. */
  readonly customers: readonly string[];
  readonly period: Interval;
  readonly preparedMs: number;
  /** Since when anything is kept of these units; null where nothing is. */
  readonly keptSinceMs: number | null;
  readonly units: readonly UnitReport[];
  /** Alarms that people were told of in the period. */
  readonly announced: readonly Raising[];
  /** How they were answered. */
  readonly answers: Readonly<Record<Counted, Acknowledgement>>;
  readonly permissions: readonly SitePermission[];
}
