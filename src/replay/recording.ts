import { setImmediate as others } from "node:timers/promises";
import { findLogs } from "../acquire/find.ts";
import { commonCausesOf } from "../collector/common-causes.ts";
import type { FleetView, LogView } from "../collector/fleet-view.ts";
import type { PastOf } from "../collector/past.ts";
import { trendOf } from "../collector/trend.ts";
import { viewUnit } from "../collector/view.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { day, hour, minute } from "../terms/time.ts";
import { openPlayback, type UnitPlayback } from "./unit-playback.ts";

/** What is known of a recording once it was read through. Plain data. */
export interface RecordingStart {
  readonly fleet: Fleet;
  /** Absolute path, named on every screen. */
  readonly stateFolder: string;
  readonly services: readonly ServiceRecord[];
  /** Everything that is told, in order. */
  readonly events: readonly AlarmEvent[];
  /** By place in the fleet file: how the logs were read, and what was wrong with them. */
  readonly logs: readonly { readonly log: LogView; readonly problem: string | null }[];
  /** From when on it is shown; default: the first reading. */
  readonly fromMs?: number;
  /** Its end; later rows are left out. */
  readonly toMs: number;
}

/** A fleet's recorded logs, played to any time. */
export interface Recording {
  readonly fromMs: number;
  readonly toMs: number;
  /**
   * Plays every unit to `timeMs`. `interrupted` is asked every few milliseconds, after others had a turn; where
   * it answers true the way is broken off, and another `goTo` must follow before a view. `onWay` hears how much is done,
   * 0 to 1. False where it was broken off.
   */
  goTo(timeMs: number, interrupted: () => boolean, onWay?: (done: number) => void): Promise<boolean>;
  /** Time of the next reading of a unit, or of any (null); +∞ where there is none. */
  nextReadingMs(unit: string | null): number;
  /** The next, or the last, alarm raised after or before `timeMs`, of a unit or of any. */
  alarm(direction: "next" | "last", timeMs: number, unit: string | null): AlarmEvent | undefined;
  view(timeMs: number): Omit<FleetView, "replay">;
  /** What a unit's past is drawn from, nothing of it after `playedMs`; undefined for an unknown unit. */
  past(unit: string, playedMs: number): PastOf | undefined;
}

/** Others get a turn after so long, so that no request waits much longer. */
const turnMs = 20;

/** All units' charts together: about 250 MB where a unit has seven channels. */
const mostChartMinutes = 4_000_000;
const leastChartMinutes = (day + hour) / minute;
/** Points to go back to: of one unit, and of all together, some 20 KB each. */
const mostUnitCheckpoints = 64;
const mostCheckpoints = 4000;

/** Opens every unit's logs at their beginning. */
export async function openRecording(start: RecordingStart): Promise<Recording> {
  const { fleet, services, events, toMs } = start;
  const found = await findLogs(fleet);
  const chartMinutes = Math.max(leastChartMinutes, Math.floor(mostChartMinutes / fleet.units.length));
  const checkpoints = Math.max(
    2,
    Math.min(mostUnitCheckpoints, Math.floor(mostCheckpoints / fleet.units.length)),
  );
  const units: UnitPlayback[] = [];
  for (const unit of fleet.units) {
    const files = found.files.get(unit.id) ?? [];
    const staleAtMs = new Set(events.filter(toldStale(unit.id)).map(({ timeMs }) => timeMs));
    units.push(
      await openPlayback({
        unit,
        fleet,
        files,
        services,
        staleAtMs,
        toMs,
        mostChartMinutes: chartMinutes,
        mostCheckpoints: checkpoints,
      }),
    );
  }
  const byId = new Map(fleet.units.map(({ id }, place) => [id, units[place]]));
  const raised = events.filter(({ event }) => event === "raised" || event === "unsuppressed");
  const firstMs = Math.min(toMs, ...units.map((unit) => unit.nextMs()));
  const fromMs = Math.max(firstMs, start.fromMs ?? firstMs);

  return {
    fromMs,
    toMs,
    async goTo(timeMs, interrupted, onWay) {
      let turnEndsMs = performance.now() + turnMs;
      const pause = async (): Promise<boolean> => {
        if (performance.now() < turnEndsMs) return false;
        onWay?.(wayDone(timeMs));
        await others();
        turnEndsMs = performance.now() + turnMs;
        return interrupted();
      };
      for (const unit of units) {
        await unit.goTo(timeMs, pause);
        if (unit.atMs() !== timeMs || (await pause())) return false;
      }
      return true;
    },
    nextReadingMs(unit) {
      if (unit !== null) return byId.get(unit)?.nextMs() ?? Number.POSITIVE_INFINITY;
      return units.reduce((next, each) => Math.min(next, each.nextMs()), Number.POSITIVE_INFINITY);
    },
    alarm(direction, timeMs, unit) {
      const fits = (event: AlarmEvent): boolean =>
        (unit === null || event.unit === unit) && event.timeMs >= fromMs && event.timeMs <= toMs;
      return direction === "next"
        ? raised.find((event) => event.timeMs > timeMs && fits(event))
        : raised.findLast((event) => event.timeMs < timeMs && fits(event));
    },
    view: (timeMs) => {
      const views = units.map((unit, place) => {
        const { log, problem } = start.logs[place];
        const trend = trendOf(unit.recent, timeMs);
        return {
          // Of one that is never read in it that holds from the recording's beginning on.
          ...(problem !== null && { unreadSinceMs: fromMs }),
          ...viewUnit(unit.state(), fleet, log, problem, timeMs),
          ...(trend && { trend }),
        };
      });
      return {
        version: 1,
        fleet: fleet.name,
        timezone: fleet.timezone,
        display: fleet.display,
        clockMs: timeMs,
        stateFolder: start.stateFolder,
        notices: found.folderProblem === undefined ? [] : [found.folderProblem],
        units: views,
        ...commonCausesOf(views),
      };
    },
    past(id, playedMs) {
      const unit = byId.get(id);
      if (unit === undefined) return undefined;
      return {
        unit: id,
        state: unit.state(),
        log: unit.log(),
        recent: unit.recent,
        events: events.filter((event) => event.unit === id),
        services,
        playedMs,
      };
    },
  };

  /** How much of the way from the recording's beginning to `timeMs` all units together have done. */
  function wayDone(timeMs: number): number {
    const whole = Math.max(1, timeMs - firstMs);
    const done = units.map((unit) => Math.max(0, Math.min(1, (unit.atMs() - firstMs) / whole)));
    return done.reduce((sum, each) => sum + each, 0) / units.length;
  }
}

function toldStale(unit: string): (event: AlarmEvent) => boolean {
  return (told) =>
    told.unit === unit &&
    told.alarm === "readings-stale" &&
    (told.event === "raised" || told.event === "suppressed");
}
