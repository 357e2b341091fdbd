import { type AlarmName, comparePriority, type Priority } from "../terms/alarms.ts";
import type { EventKind, Evidence, Finding } from "../terms/events.ts";
import { alwaysTold, causesOf, tellingOrder } from "./causes.ts";

/** The life of one alarm's condition at one unit: what the rule says, and what has been told of it. Plain data. */
export interface AlarmLife {
  alarm: AlarmName;
  /** By the delays: its on-delay runs, or has run out in the deadband, or it is on. */
  phase: "off" | "pending" | "held" | "on";
  /** `waiting`: on, but a possible cause's delay still runs. */
  told: "none" | "waiting" | "raised" | "suppressed";
  by: AlarmName | "service" | null;
  /** The rule's own priority, and the highest it took over from what it suppresses. */
  ownPriority: Priority;
  priority: Priority;
  sinceMs: number;
  raisedMs: number;
  /** When it was told first, of one that is suppressed: before that, where it had been raised. */
  firstToldMs?: number;
  message: string;
  evidence: Evidence;
  /** The numbers that the message says, as the rule wrote them. */
  numbers: readonly number[];
  /** The reading at which it was said so, ms: that of the raising, or of what was said anew since. */
  saidMs?: number;
  /** Of a rule that restates: the number that what is said hangs on. */
  saidOf: number | null;
}

export function startLife(alarm: AlarmName, priority: Priority): AlarmLife {
  return {
    alarm,
    phase: "off",
    told: "none",
    by: null,
    ownPriority: priority,
    priority,
    sinceMs: 0,
    raisedMs: 0,
    message: "",
    evidence: {},
    numbers: [],
    saidOf: null,
  };
}

/**
 * Settles what is told of a unit's alarms after their phases changed at one instant, and appends the
 * findings, causes before consequences, otherwise in the order of the alarms. `lives` is in that order.
 *
 * `normalSince(alarm)` is the first reading of the normal stretch of an alarm that went off.
 */
export function settle(
  lives: readonly AlarmLife[],
  underService: boolean,
  timeMs: number,
  normalSince: (alarm: AlarmName) => number,
  findings: Finding[],
): void {
  const first = findings.length;
  for (const life of lives) settleOne(life, lives, underService, timeMs, normalSince, findings);
  if (findings.length - first > 1) {
    const told = findings.splice(first);
    findings.push(...told.sort((a, b) => tellingOrder[a.alarm] - tellingOrder[b.alarm]));
  }
}

function settleOne(
  life: AlarmLife,
  lives: readonly AlarmLife[],
  underService: boolean,
  timeMs: number,
  normalSince: (alarm: AlarmName) => number,
  findings: Finding[],
): void {
  const tell = (event: EventKind, sinceMs: number, by?: AlarmName | "service") => {
    const { alarm, priority, message, evidence } = life;
    findings.push({ timeMs, alarm, event, priority, sinceMs, ...(by && { by }), message, evidence });
  };
  if (life.phase !== "on") {
    if (life.told === "raised" || life.told === "suppressed") tell("cleared", normalSince(life.alarm));
    life.told = "none";
    life.by = null;
    life.priority = life.ownPriority;
    return;
  }
  if (comparePriority(life.ownPriority, life.priority) < 0) {
    life.priority = life.ownPriority;
    if (life.told === "raised") tell("priority-changed", life.sinceMs);
  }
  const by = suppressedBy(life.alarm, lives, underService);
  if (by !== null) {
    if (life.told === "suppressed" && life.by === by) return;
    if (life.told !== "suppressed") {
      life.firstToldMs = life.told === "raised" ? life.raisedMs : timeMs;
      life.told = "suppressed";
      life.raisedMs = timeMs;
      tell("suppressed", life.sinceMs, by);
    }
    life.by = by;
    const cause = lives.find((other) => other.alarm === by);
    if (cause) takeOverPriority(cause, life, timeMs, findings);
    return;
  }
  if (life.told === "raised") return;
  if (life.told !== "suppressed" && causeIsPending(life.alarm, lives)) {
    life.told = "waiting";
    return;
  }
  const event = life.told === "suppressed" ? "unsuppressed" : "raised";
  life.told = "raised";
  life.by = null;
  life.raisedMs = timeMs;
  tell(event, life.sinceMs);
}

function suppressedBy(
  alarm: AlarmName,
  lives: readonly AlarmLife[],
  underService: boolean,
): AlarmName | "service" | null {
  if (alwaysTold(alarm)) return null;
  if (underService) return "service";
  for (const cause of causesOf(alarm)) {
    if (lives.some((life) => life.alarm === cause && life.phase === "on")) return cause;
  }
  return null;
}

function causeIsPending(alarm: AlarmName, lives: readonly AlarmLife[]): boolean {
  const causes = causesOf(alarm);
  return lives.some((life) => life.phase === "pending" && causes.includes(life.alarm));
}

function takeOverPriority(
  cause: AlarmLife,
  consequence: AlarmLife,
  timeMs: number,
  findings: Finding[],
): void {
  if (comparePriority(consequence.priority, cause.priority) >= 0) return;
  cause.priority = consequence.priority;
  if (cause.told !== "raised") return;
  findings.push({
    timeMs,
    alarm: cause.alarm,
    event: "priority-changed",
    priority: cause.priority,
    sinceMs: cause.sinceMs,
    message: cause.message,
    evidence: cause.evidence,
  });
}
