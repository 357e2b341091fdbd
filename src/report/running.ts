import { median } from "simple-statistics";
import { runningPowerW, stoppedFraction } from "../condition/operating-state.ts";
import { type Ran, ranIn } from "../condition/ran-in.ts";
import { channelIndex } from "../terms/channels.ts";
import type { Interval } from "./intervals.ts";
import type { Reading, Span } from "./spans.ts";

/** A length of time that summaries bound: the best estimate, and between what it surely lies; ms. */
export interface Bounded {
  readonly ms: number;
  readonly leastMs: number;
  readonly mostMs: number;
}

/** How long a unit's motor ran. */
export interface RunTime extends Bounded {
  /** What tells it; null where the log has none of these. */
  readonly by: "motor current" | "power" | "run command" | null;
  /** How long that is known of, ms. */
  readonly knownMs: number;
}

/** When a unit's motor ran. */
export interface Running extends RunTime {
  /** Spans throughout which it ran. */
  readonly ran: readonly Span[];
  /** Whether it stood throughout a span; undefined where nothing tells. */
  stood(span: Span): boolean | undefined;
}

const sources = [
  { by: "motor current", signal: channelIndex.motor_current },
  { by: "power", signal: channelIndex.power },
  { by: "run command", signal: channelIndex.run_command },
] as const;

/**
 * How long the motor ran, by its current, else its power, else its command: for the report, for what is due by running, and, as far as
 * its bounds, for the charts. A span in which it ran throughout counts wholly, one in which it did not not at all; another by the share
 * that its mean has of the level of running. Of what was not read it says nothing: that is not in `knownMs`.
 */
export function runningOf(spans: readonly Span[], runningA: number): Running {
  const source = sources.find(({ signal }) => spans.some((span) => span.of(signal) !== undefined));
  if (source === undefined) {
    return { by: null, ms: 0, leastMs: 0, mostMs: 0, ran: [], knownMs: 0, stood: () => undefined };
  }
  const { by, signal } = source;
  const level = by === "motor current" ? runningA : by === "power" ? runningPowerW : 1;
  // A motor that runs counts as stopped only below this.
  const low = by === "run command" ? 1 : stoppedFraction * level;
  const known = spans.flatMap((span) => {
    const reading = span.of(signal);
    return reading === undefined ? [] : [{ span, reading }];
  });
  let before: { readonly ran: Ran; readonly toMs: number } | undefined;
  const judged = known.map(({ span, reading }) => {
    const joins = before?.toMs === span.fromMs ? before.ran : undefined;
    const ran = ranIn(reading.min, reading.max, { runningFrom: level, stoppedBelow: low }, joins);
    before = { ran, toMs: span.toMs };
    return { span, reading, ran };
  });
  const ran = judged.filter((one) => one.ran === "throughout");
  const mixed = judged.filter((one) => one.ran === "in part");
  const usual = ran.length === 0 ? undefined : median(ran.map(({ reading }) => reading.mean));
  const leastMs = total(ran.map(({ span }) => span));
  const between = mixed.reduce((sum, { span, reading }) => sum + lasts(span) * shareOf(reading, usual), 0);
  return {
    by,
    ms: leastMs + between,
    leastMs,
    mostMs: leastMs + total(mixed.map(({ span }) => span)),
    ran: ran.map(({ span }) => span),
    knownMs: total(known.map(({ span }) => span)),
    stood: (span) => {
      const reading = span.of(signal);
      return reading && reading.max < level;
    },
  };
}

function shareOf({ mean, max }: Reading, usual = max): number {
  return Math.min(1, Math.max(0, mean / usual));
}

/** How long the ozone cell was on, and how long spans last in which it was in fault. */
export interface OzoneTime extends Bounded {
  readonly faultMs: number;
  readonly knownMs: number;
  /** On in spans throughout which the motor stood, and in those of which nothing tells whether it ran; ms. */
  readonly whileStoodMs: number;
  readonly unseenMs: number;
}

/**
 * How long the ozone was on, by its status: the share of a span's readings that say so. A span with a fault in it
 * tells no share, and counts only to the most that it may be. Null where the log has no ozone status.
 */
export function ozoneTimeOf(spans: readonly Span[], { stood }: Pick<Running, "stood">): OzoneTime | null {
  let ms = 0;
  let whileStoodMs = 0;
  let unseenMs = 0;
  let faultMs = 0;
  let knownMs = 0;
  for (const span of spans) {
    const reading = span.of(channelIndex.ozone);
    if (reading === undefined) continue;
    knownMs += lasts(span);
    if (reading.max > 1) {
      faultMs += lasts(span);
      continue;
    }
    const onMs = lasts(span) * reading.mean;
    ms += onMs;
    const isStanding = stood(span);
    if (isStanding === undefined) unseenMs += onMs;
    else if (isStanding) whileStoodMs += onMs;
  }
  return knownMs === 0
    ? null
    : { ms, leastMs: ms, mostMs: ms + faultMs, faultMs, knownMs, whileStoodMs, unseenMs };
}

function lasts({ fromMs, toMs }: Interval): number {
  return toMs - fromMs;
}

function total(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, one) => sum + lasts(one), 0);
}
