import { runningCurrentA } from "../condition/operating.ts";
import { physicalRanges } from "../condition/physical-range.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { ServiceRecord, Unit } from "../fleet/unit.ts";
import { type Channel, channelIndex, channelUnit } from "../terms/channels.ts";
import { type Availability, availabilityOf, downAlarms } from "./availability.ts";
import { type Drift, driftOf } from "./drift.ts";
import type { Episode } from "./episodes.ts";
import { type Interval, lengthOf, union } from "./intervals.ts";
import { type Point, pointStep, pointsOf } from "./points.ts";
import { requiredTime, stretchesOf } from "./required.ts";
import { type OzoneTime, ozoneTimeOf, type RunTime, runningOf } from "./running.ts";
import { type ServiceRow, serviceRows, touches } from "./service-rows.ts";
import { type Level, type Span, spansOf, withinBounds } from "./spans.ts";

/** What is kept of a unit, as far as a report on it needs it. */
export interface UnitKept {
  readonly unit: Unit;
  /** Coarsest first. */
  readonly levels: readonly Level[];
  /** Centre of clean running by signal, stored units; null where the unit has no baseline. */
  readonly baseline: readonly (number | null)[] | null;
  /** Its services in order of time, with their lapses. */
  readonly services: readonly ServiceRecord[];
  /** Its alarms' episodes, in the order in which they began. */
  readonly episodes: readonly Episode[];
}

/** One signal of a unit over a period, stored unit. */
export interface SignalReport {
  readonly channel: Channel;
  readonly part: number;
  /** Its place in `signalsOf` the unit. */
  readonly signal: number;
  readonly points: readonly Point[];
  readonly baseline: number | null;
  readonly drift: Drift | null;
}

/** All figures of a unit over a period. */
export interface UnitReport {
  readonly unit: Unit;
  readonly availability: Availability;
  readonly running: RunTime;
  /** Null where the log has no ozone status. */
  readonly ozone: OzoneTime | null;
  /** Share of the period with readings, 0 to 1. */
  readonly coverage: number;
  /** Length of the longest span that readings are summed up over, ms; 0 where there are none. */
  readonly coarsestMs: number;
  /** Measured signals; of those without a reading none. */
  readonly signals: readonly SignalReport[];
  /** Those that people were told of at some time, and that touch the period. */
  readonly episodes: readonly Episode[];
  readonly services: readonly ServiceRow[];
}

/** A unit's figures over a period, from what is kept; and the spans that they rest on, which are much larger. */
export function unitReport(
  kept: UnitKept,
  timezone: string,
  period: Interval,
): { readonly report: UnitReport; readonly spans: readonly Span[] } {
  const { unit, baseline, services } = kept;
  const spans = withinBounds(spansOf(kept.levels, period), physicalRanges(unit));
  const running = runningOf(
    spans,
    runningCurrentA(unit, baseline?.[channelIndex.motor_current] ?? undefined),
  );
  const planned = stretchesOf(services, (work) => work === "planned stop", period.toMs);
  const serving = stretchesOf(
    services,
    (work) => work !== "planned stop" && work !== "baseline",
    period.toMs,
  );
  const episodes = kept.episodes.filter(
    ({ sinceMs, endMs }) => sinceMs < period.toMs && (endMs ?? period.toMs) > period.fromMs,
  );
  const stepMs = pointStep(spans, period);
  const { ran, stood: _, ...runTime } = running;
  const report: UnitReport = {
    unit,
    availability: availabilityOf({
      required: requiredTime(unit, timezone, period, planned),
      faults: episodes
        .filter(({ alarm }) => downAlarms.includes(alarm))
        .map(({ sinceMs, endMs }) => ({ fromMs: sinceMs, toMs: endMs ?? period.toMs })),
      services: serving,
      ran,
      read: spans,
    }),
    running: runTime,
    ozone: ozoneTimeOf(spans, running),
    coverage: lengthOf(union(spans)) / (period.toMs - period.fromMs),
    coarsestMs: spans.reduce((most, { fromMs, toMs }) => Math.max(most, toMs - fromMs), 0),
    signals: signalsOf(unit).flatMap(({ channel, part }, signal): SignalReport[] => {
      if (channelUnit[channel] === "") return [];
      const points = pointsOf(spans, signal, stepMs);
      if (points.length === 0) return [];
      const drift = driftOf(ran, signal, period);
      return [{ channel, part, signal, points, baseline: baseline?.[signal] ?? null, drift }];
    }),
    episodes: episodes.filter(({ raisedMs }) => raisedMs !== null),
    services: serviceRows(services, period.toMs).filter((row) => touches(row, period)),
  };
  return { report, spans };
}
