import type { ServiceRecord } from "../fleet/unit.ts";
import type { Logged, Visit } from "../fleet/visit.ts";
import { gaugesIn } from "../report/gauge-words.ts";
import type { Database } from "../store/sqlite.ts";
import { levels, summariesOf } from "../store/summaries.ts";
import { type Channel, channelIndex } from "../terms/channels.ts";
import { must } from "./kept-state.ts";

/** A record's visit with what the logger had when gauges were read; without a database as it is. */
export function besideLogger<T extends ServiceRecord>(record: T, db: Database | null): T {
  const { unit, atMs, visit } = record;
  if (db === null || visit === undefined) return record;
  return { ...record, visit: visitBesideLogger(visit, unit, atMs, db) };
}

/** A visit to a unit with what its logger had when gauges were read, or else at `atMs`: as finely as it is still kept. */
export function visitBesideLogger(visit: Visit, unit: string, atMs: number, db: Database): Visit {
  const channels = Object.keys(gaugesIn(visit)) as Channel[];
  const logged = channels.flatMap((channel) => {
    const found = loggedAt(db, unit, channel, visit.readMs ?? atMs);
    return found === undefined ? [] : [[channel, found] as const];
  });
  return logged.length === 0 ? visit : { ...visit, logged: Object.fromEntries(logged) };
}

function loggedAt(db: Database, unit: string, channel: Channel, timeMs: number): Logged | undefined {
  for (const { stepMs } of levels) {
    const fromMs = Math.floor(timeMs / stepMs) * stepMs;
    const { signals } = must(summariesOf(db, unit, stepMs, fromMs, fromMs + stepMs));
    const mean = signals.find(({ signal }) => signal === channelIndex[channel])?.mean[0];
    if (mean !== undefined && !Number.isNaN(mean)) return { mean, spanMs: stepMs };
  }
  return undefined;
}
