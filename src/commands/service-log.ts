import { type CleaningEffect, cleaningEffect } from "../advise/upkeep/cleaning-effect.ts";
import { decodeUnit } from "../collector/checkpoint.ts";
import { type UnitUpkeep, upkeepOf } from "../collector/upkeep.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import { loadUnit } from "../store/checkpoints.ts";
import { readDatabase } from "../store/database.ts";
import { servicesAfter } from "../store/services.ts";
import type { Database } from "../store/sqlite.ts";
import { summariesOf } from "../store/summaries.ts";
import { channelIndex } from "../terms/channels.ts";
import { jsonLine } from "../terms/text.ts";
import { day, hour } from "../terms/time.ts";
import { besideLogger } from "./beside-logger.ts";
import { print } from "./context.ts";
import { must } from "./kept-state.ts";
import { loadFleet, unitIn } from "./load-fleet.ts";
import { logJson, logLines } from "./service-log-text.ts";
import { ofUnit } from "./service-records.ts";
import { stateFolder } from "./state-folder.ts";

export interface LogOptions {
  readonly json?: boolean;
  readonly state?: string;
}

/** A record, and of a cleaning what gas pressure says of it; `tooEarly`: not enough running since to tell. */
export interface LogEntry {
  readonly record: ServiceRecord;
  readonly effect?: CleaningEffect | "too early";
  /** Whether it is the pressure of a constant flow that tells, or the flow. */
  readonly channel?: "gas_pressure" | "gas_flow";
}

/** `service log`: what was done at the units, by time, and whether each cleaning worked. Reads no logs and changes nothing. */
export async function log(
  fleetPath: string | undefined,
  unitId: string | undefined,
  options: LogOptions,
): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  if (unitId !== undefined) unitIn(fleet, unitId);
  const db = must(readDatabase(stateFolder(fleet, path, options.state)));
  try {
    const nowMs = Date.now();
    const given = db === null ? [] : must(servicesAfter(db, 0));
    const entries = fleet.units
      .filter(({ id }) => unitId === undefined || id === unitId)
      .flatMap((unit) => entriesOf(unit, fleet, ofUnit(unit.id, fleet, given), db))
      .map((entry) => ({ ...entry, record: besideLogger(entry.record, db) }))
      // What was begun may yet be ended before its time is over.
      .filter(({ record: { step, atMs } }) => step !== "taken-back" && (step !== "lapse" || atMs <= nowMs))
      .toSorted((a, b) => a.record.atMs - b.record.atMs);
    for (const entry of entries) {
      if (options.json) print(jsonLine(logJson(entry)));
      else for (const line of logLines(entry, fleet)) print(line);
    }
    if (entries.length === 0 && !options.json) print("no service is on record");
    return 0;
  } finally {
    db?.close();
  }
}

function entriesOf(
  unit: Unit,
  fleet: Fleet,
  records: readonly ServiceRecord[],
  db: Database | null,
): LogEntry[] {
  const isOver = ({ work, step }: ServiceRecord): boolean =>
    work === "cleaning" && (step === "done" || step === "end");
  const saved = db === null || !records.some(isOver) ? null : must(loadUnit(db, unit.id));
  const upkeep = saved === null ? null : upkeepOf(decodeUnit(unit, fleet, saved.text).state);
  return records.map((record, i): LogEntry => {
    if (db === null || upkeep?.gas == null || !isOver(record)) return { record };
    const next = records.slice(i + 1).find(({ work }) => work === "cleaning");
    const effect = effectOf(upkeep, db, spanOf(record, records.slice(0, i)), next?.atMs);
    const channel = upkeep.gas.signal === channelIndex.gas_pressure ? "gas_pressure" : "gas_flow";
    return { record, effect: effect ?? "too early", channel };
  });
}

/** From when until when a cleaning that is over lasted, as far as it was told. */
function spanOf({ unit, step, atMs, visit }: ServiceRecord, before: readonly ServiceRecord[]) {
  const begun = before.findLast(({ work }) => work === "cleaning");
  const beginMs = step === "end" && begun?.step === "begin" ? begun.atMs : (visit?.arrivedMs ?? atMs);
  return { unit, beginMs: Math.min(beginMs, atMs), endMs: Math.max(visit?.leftMs ?? atMs, atMs) };
}

/** Hours that are looked at on either side of a cleaning. */
const aroundMs = 7 * day;

function effectOf(
  { gas, runningA, fouling }: UnitUpkeep,
  db: Database,
  { unit, beginMs, endMs }: ReturnType<typeof spanOf>,
  nextMs = Number.POSITIVE_INFINITY,
): CleaningEffect | null {
  if (gas === null) return null;
  const toMs = Math.min(endMs + aroundMs, nextMs);
  const { fromMs, signals } = must(summariesOf(db, unit, hour, beginMs - aroundMs, toMs));
  const current = signals.find(({ signal }) => signal === channelIndex.motor_current);
  const values = signals.find(({ signal }) => signal === gas.signal);
  if (current === undefined || values === undefined) return null;
  const hours = { fromMs, leastA: current.min, gas: values.mean };
  const rises = gas.signal === channelIndex.gas_pressure;
  const effect = cleaningEffect(hours, runningA, { clean: gas.clean, rises }, beginMs, endMs);
  // The rule makes up for the water's warmth: where it speaks of this cleaning, its word counts.
  const outlasts = nextMs === Number.POSITIVE_INFINITY && fouling?.outlastsCleaning && fouling.atMs > endMs;
  return effect && outlasts ? { ...effect, verdict: "did not work" } : effect;
}
