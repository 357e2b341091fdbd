import type { SendLine } from "../fleet/notify.ts";
import { comparePriority } from "../terms/alarms.ts";
import { hour, minute } from "../terms/time.ts";
import type { Bundle } from "./bundle.ts";
import type { Now } from "./now.ts";
import type { Stand, Standing } from "./standing.ts";

/** A silence below high waits at most so long for units that may have fallen silent with it (house choice). */
const muteMs = 10 * minute;

/** How long a bundle waits for company, ms: longer where units went mute with it and their alarm is still to come. */
export function waitFor({ plan: { groupWithinMs }, mute }: Now, { alarms, isSilence }: Bundle): number {
  const isUrgent = alarms[0].priority === "high";
  const goesWith = (unit: Stand["mute"][number]) =>
    alarms.some(
      ({ silent, sinceMs, intervalMs }) =>
        silent === "no readings" &&
        Math.abs(unit.sinceMs - sinceMs) <= Math.max(groupWithinMs, 2 * intervalMs, 2 * unit.intervalMs),
    );
  return isSilence && !isUrgent && mute.some(goesWith) ? Math.max(groupWithinMs, muteMs) : groupWithinMs;
}

/** What was raised longer ago came late, and may be over in what is still to be read (house choice). */
const lateMs = 2 * minute;

/** Whether a message goes without waiting for others: no other went just now for the same site. */
export function isPressing(
  { memory, plan, nowMs }: Now,
  line: SendLine,
  { alarms, isSilence }: Bundle,
): boolean {
  const { groupWithinMs, unitsAt } = plan;
  const [{ site, unit }] = alarms;
  const fresh = ({ raisedMs, isPressing }: Standing) =>
    isPressing && nowMs - raisedMs <= Math.max(groupWithinMs, lateMs);
  if (isSilence || !alarms.some(fresh)) return false;
  const neighbours = site === null ? [unit] : (unitsAt.get(site) ?? []);
  return ![...memory.deliveries.values()].some(
    (delivery) =>
      delivery.line === line.name &&
      delivery.madeMs > nowMs - groupWithinMs &&
      delivery.kind !== "returned" &&
      delivery.alarms.some((told) => neighbours.includes(told.unit)),
  );
}

/** Whether it was told within the hour that this alarm chatters: it is not told each time. */
export function chatterIsTold({ memory, nowMs }: Now, line: SendLine, alarm: Standing): boolean {
  if (alarm.chatters === 0) return false;
  return [...memory.deliveries.values()].some(
    (delivery) =>
      delivery.line === line.name &&
      delivery.outcome !== "withdrawn" &&
      delivery.madeMs > nowMs - hour &&
      delivery.alarms.some(
        (told) =>
          told.chattering &&
          told.unit === alarm.unit &&
          told.alarm === alarm.alarm &&
          comparePriority(told.priority, alarm.priority) <= 0,
      ),
  );
}
