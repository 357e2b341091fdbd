import type { Priority } from "../terms/alarms.ts";
import { iso } from "../terms/time.ts";
import type { Standing } from "./standing.ts";

/** A message as it is sent: the JSON of a webhook's body and of a command's standard input. */
export interface Content {
  readonly type: "alarm.raised" | "alarm.escalated" | "alarm.returned" | "test";
  /** When the message was made. */
  readonly timestamp: string;
  /** The message's `Idempotency-Key`. */
  readonly id: string;
  readonly fleet: string;
  /** The most urgent of its alarms'. */
  readonly priority: Priority | null;
  readonly site: string | null;
  /** At most 160 characters. */
  readonly subject: string;
  readonly text: string;
  readonly alarms: readonly unknown[];
  /** Units of further alarms, which are named and not told in full. */
  readonly more: readonly string[];
}

/** A message tells so many alarms in full; a whole fleet's silence would be too long for a receiver. */
export const mostAlarms = 10;

/** One alarm of a message; times RFC 3339, `evidence` in stored units as in events. */
export function alarmJson(alarm: Standing): unknown {
  const { id, unit, site, priority, sinceMs, raisedMs, chatters, problem, alarmView } = alarm;
  return {
    id,
    unit,
    site,
    alarm: alarm.alarm,
    priority,
    since: iso(sinceMs),
    raised: iso(raisedMs),
    ...(chatters > 0 && { raised_within_hour: chatters }),
    ...(problem !== null && { problem }),
    ...(alarmView && {
      message: alarmView.message,
      evidence: alarmView.evidence,
      how_soon: alarmView.guidance.howSoon,
      urgency: alarmView.guidance.urgency,
      likely_causes: alarmView.guidance.likelyCauses,
      actions: alarmView.guidance.actions,
      cautions: alarmView.guidance.cautions,
    }),
  };
}
