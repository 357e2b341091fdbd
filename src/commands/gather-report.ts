import { goOnTo, startLives, tell } from "../assess/lives.ts";
import { figuresOf } from "../assess/performance.ts";
import { decodeUnit } from "../collector/checkpoint.ts";
import { withLapses } from "../fleet/services.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { type EpisodeEvent, startEpisodes, takeEvent } from "../report/episodes.ts";
import type { FleetReport, SitePermission } from "../report/fleet-report.ts";
import type { Interval } from "../report/intervals.ts";
import { localTimes } from "../report/local.ts";
import { permissionOf } from "../report/permission.ts";
import type { Span } from "../report/spans.ts";
import { type UnitReport, unitReport } from "../report/unit-report.ts";
import { loadUnit } from "../store/checkpoints.ts";
import { eventsIn } from "../store/events.ts";
import { keptSince } from "../store/kept-since.ts";
import { attemptOn } from "../store/outcome.ts";
import { servicesAfter } from "../store/services.ts";
import type { Database } from "../store/sqlite.ts";
import { levels, summariesOf } from "../store/summaries.ts";
import { wordsAfter } from "../store/words.ts";
import { besideLogger } from "./beside-logger.ts";
import { must } from "./kept-state.ts";

/** A kept event as told. */
export function eventOf(line: string, timeMs: number): EpisodeEvent {
  const event = JSON.parse(line) as Omit<EpisodeEvent, "timeMs" | "sinceMs"> & { readonly since: string };
  return { ...event, timeMs, sinceMs: Date.parse(event.since) };
}

/**
 * All that a report tells of groups of a fleet's units over a period, each by itself, from its state. `onUnit` is given
 * each unit with its spans, which are not kept: a year of a large fleet is more than memory holds. Throws `CannotWork`.
 */
export function gatherReports(
  db: Database,
  fleet: Fleet,
  groups: readonly (readonly Unit[])[],
  period: Interval,
  nowMs: number,
  onUnit: (unit: UnitReport, spans: readonly Span[]) => void,
): FleetReport[] {
  const { fromMs, toMs } = period;
  const words = must(wordsAfter(db, 0));
  const given = must(servicesAfter(db, 0)).map((one) => besideLogger(one, db));
  const services = [...fleet.services, ...given];
  const told = groups.map((units) => {
    const ids = new Set(units.map(({ id }) => id));
    const lives = startLives(
      words.filter(({ unit }) => ids.has(unit)),
      fromMs,
    );
    return { units, ids, lives, episodes: startEpisodes() };
  });
  const byUnit = new Map(told.flatMap((one) => [...one.ids].map((id) => [id, one])));
  // From the first kept event on: what stands has been raised before the period.
  must(
    attemptOn(db, () => {
      for (const { line, timeMs, unit } of eventsIn(db, { untilMs: toMs })) {
        const one = byUnit.get(unit);
        if (one === undefined || timeMs >= toMs) continue;
        const event = eventOf(line, timeMs);
        tell(one.lives, event);
        takeEvent(one.episodes, event);
      }
    }),
  );
  const today = new Date(localTimes(fleet.timezone).wall(nowMs)).toISOString().slice(0, 10);
  return told.map(({ units, lives, episodes }) => {
    goOnTo(lives, toMs);
    const held = Map.groupBy(episodes.all, ({ unit }) => unit);
    const known = units
      .map(({ id }) => must(attemptOn(db, () => keptSince(db, id))))
      .filter((ms) => ms !== null);
    const reports = units.map((unit) => {
      const { report, spans } = unitReport(
        {
          unit,
          levels: levels
            .toReversed()
            .map(({ stepMs }) => must(summariesOf(db, unit.id, stepMs, fromMs - stepMs, toMs))),
          baseline: baselineOf(db, unit, fleet),
          services: withLapses(services.filter((one) => one.unit === unit.id)),
          episodes: held.get(unit.id) ?? [],
        },
        fleet.timezone,
        period,
      );
      onUnit(report, spans);
      return report;
    });
    return {
      fleet: fleet.name,
      timezone: fleet.timezone,
      display: fleet.display,
      customers: customersOf(fleet, units),
      period,
      preparedMs: nowMs,
      keptSinceMs: known.length === 0 ? null : Math.min(...known),
      units: reports,
      announced: lives.announced.filter(({ announcedMs }) => announcedMs !== null && announcedMs < toMs),
      answers: figuresOf(lives, fromMs, toMs).acknowledgement,
      permissions: permissionsOf(fleet, reports, today),
    };
  });
}

function baselineOf(db: Database, unit: Unit, fleet: Fleet): readonly (number | null)[] | null {
  const saved = must(loadUnit(db, unit.id));
  if (saved === null) return null;
  const { baseline } = decodeUnit(unit, fleet, saved.text).state.condition;
  return baseline?.signals.map((signal) => signal?.center ?? null) ?? null;
}

function customersOf(fleet: Fleet, units: readonly Unit[]): string[] {
  const named = units.flatMap(({ site }) => fleet.sites.find(({ name }) => name === site)?.customer ?? []);
  return [...new Set(named)];
}

/** By site: those with a unit that is fitted with ozone, by the fleet file or else by its log, or whose ozone was on. */
function permissionsOf(fleet: Fleet, reports: readonly UnitReport[], today: string): SitePermission[] {
  const fed = reports.filter(({ unit, ozone }) => {
    if (unit.ozone === "fitted") return true;
    return unit.ozone === undefined ? ozone !== null : (ozone?.ms ?? 0) > 0;
  });
  return [...Map.groupBy(fed, ({ unit }) => unit.site)].map(([site, there]) => ({
    site: site ?? null,
    units: there.map(({ unit }) => unit.id),
    permission: permissionOf(
      fleet.sites.find(({ name }) => name === site),
      today,
    ),
  }));
}
