import type { AlarmName } from "../terms/alarms.ts";
import { difference, type Interval, intersection, lengthOf, union } from "./intervals.ts";

/** Alarms while which a unit does not move water to where it should (house choice). */
export const downAlarms: readonly AlarmName[] = [
  "lost-prime",
  "failed-to-prime",
  "locked-rotor",
  "not-running",
  "discharge-open",
];

/**
 * Least share of the required time of which something is known for an availability to be told (house choice: the
 * completeness that 40 CFR 50 asks of air quality data before a mean is made of them, from memory).
 */
export const leastKnown = 0.75;

/** How a unit's required time of a period was spent; the four parts make up the whole. ms. */
export interface Availability {
  readonly requiredMs: number;
  readonly upMs: number;
  readonly faultMs: number;
  readonly serviceMs: number;
  /** Nothing was read, and no service is on record. */
  readonly unknownMs: number;
  /** Up of what is known, 0 to 1; null where nothing is. */
  readonly share: number | null;
  /** Share of the required time of which something is known, 0 to 1; null where the unit was not required. */
  readonly known: number | null;
  /** If all that is unknown was down, and if it was up; null where the unit was not required. */
  readonly lowest: number | null;
  readonly highest: number | null;
  /** How often it went down by a fault. */
  readonly times: number;
}

export interface AvailabilityInput {
  readonly required: readonly Interval[];
  /** When an alarm of `downAlarms` held. */
  readonly faults: readonly Interval[];
  /** When it was under service. */
  readonly services: readonly Interval[];
  /** When its motor surely ran: an inspection need not stop it. */
  readonly ran: readonly Interval[];
  /** When anything was read. */
  readonly read: readonly Interval[];
}

/**
 * Up time over up time and down time within the required time, faults and maintenance both being down: the
 * operational availability of IEC 60050-192 and EN 13306:2017 (from memory). Time of which nothing is known is in
 * neither.
 */
export function availabilityOf({ required, faults, services, ran, read }: AvailabilityInput): Availability {
  const ownFaults = faults.flatMap((one) => withoutService(one, services));
  const fault = intersection(intersection(required, ownFaults), read);
  const service = difference(difference(intersection(required, services), ran), fault);
  const down = union([...fault, ...service]);
  const up = difference(intersection(required, read), down);
  const requiredMs = lengthOf(union(required));
  const faultMs = lengthOf(fault);
  const serviceMs = lengthOf(service);
  const upMs = lengthOf(up);
  const unknownMs = Math.max(0, requiredMs - upMs - faultMs - serviceMs);
  const knownMs = upMs + faultMs + serviceMs;
  return {
    requiredMs,
    upMs,
    faultMs,
    serviceMs,
    unknownMs,
    share: knownMs === 0 ? null : upMs / knownMs,
    known: requiredMs === 0 ? null : 1 - unknownMs / requiredMs,
    lowest: requiredMs === 0 ? null : upMs / requiredMs,
    highest: requiredMs === 0 ? null : (upMs + unknownMs) / requiredMs,
    times: union(ownFaults).filter((one) => intersection(required, [one]).length > 0).length,
  };
}

/** The availability that may be told, 0 to 1; null where too little is known for one. */
export function toldShare({ share, known }: Pick<Availability, "share" | "known">): number | null {
  return known === null || known < leastKnown ? null : share;
}

/** A fault that began while the unit was under service is the service's as long as that lasts: the motor was unplugged. */
function withoutService(fault: Interval, services: readonly Interval[]): Interval[] {
  const during = services.filter(({ fromMs, toMs }) => fault.fromMs >= fromMs && fault.fromMs < toMs);
  return difference([fault], during);
}
