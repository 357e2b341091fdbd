import { createHash } from "node:crypto";
import type { AlarmLife } from "../assess/life.ts";
import { startUnit, type UnitState } from "../engine.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { alarmNames } from "../terms/alarms.ts";
import { stateFrom, stateText } from "../terms/state-text.ts";

/** Raised when the meaning of the condition part changes. */
const conditionVersion = 4;

/** One part of a unit's state, with what it rests on: a part that no longer fits starts anew. */
interface Part {
  readonly version: number;
  readonly settings: string;
  readonly data: unknown;
}

/** Units mostly rest on the same. */
const hashes = new Map<string, string>();
const mostHashes = 10_000;

/** A short hash of what something rests on. */
export function hash(settings: unknown): string {
  const text = stateText(settings);
  const known = hashes.get(text);
  if (known !== undefined) return known;
  const made = createHash("sha256").update(text).digest("hex").slice(0, 16);
  if (hashes.size >= mostHashes) hashes.clear();
  hashes.set(text, made);
  return made;
}

/** What conditioning rests on in the fleet file. */
function conditionSettings(unit: Unit): unknown {
  const { sampleIntervalMs, motor, columns, baseline, runs, season, elevationM, limits } = unit;
  const trust = limits["sensor-fault"];
  return { sampleIntervalMs, motor, columns, baseline, runs, season, elevationM, trust };
}

/** What `service-overdue` rests on; the rest of `service` is for people. */
function overdueSettings({ service: { inspectionEveryMs, cleaningEveryMs } }: Unit): unknown {
  return { inspectionEveryMs, cleaningEveryMs };
}

/** A unit's whole state as text. `decodeUnit` of it goes on to the same findings. */
export function encodeUnit(state: UnitState): string {
  const parts: Record<string, Part> = {
    condition: {
      version: conditionVersion,
      settings: hash(conditionSettings(state.unit)),
      data: state.condition,
    },
    stale: { version: 1, settings: hash(state.silence), data: state.stale },
    overdue: { version: 1, settings: hash(overdueSettings(state.unit)), data: state.overdue },
    upkeep: { version: 1, settings: "", data: state.upkeep },
    clock: {
      version: 1,
      settings: hash(state.clock.settings),
      data: { life: state.clock.life, watch: state.clock.watch },
    },
    service: { version: 1, settings: "", data: state.openServices },
    "lay-up": { version: 1, settings: "", data: state.layUp },
  };
  for (const { rule, settings, memory, delay, life } of state.rules) {
    parts[rule.alarm] = { version: rule.version, settings: hash(settings), data: { memory, delay, life } };
  }
  return stateText(parts);
}

type Parts = Readonly<Record<string, Part | undefined>>;

/** The parts of `encodeUnit`'s text. */
export function partsOf(text: string): Parts {
  return stateFrom(text) as Parts;
}

/** The unit's state from `encodeUnit`'s text or its parts, and the parts that no longer fitted and start anew. */
export function decodeUnit(
  unit: Unit,
  fleet: Pick<Fleet, "timezone">,
  saved: string | Parts,
): { state: UnitState; anew: string[] } {
  const state = startUnit(unit, fleet);
  const parts = typeof saved === "string" ? partsOf(saved) : saved;
  const anew: string[] = [];
  const take = (name: string, version: number, settings: string, into: object, from = parts[name]?.data) => {
    const part = parts[name];
    if (part?.version === version && part.settings === settings) Object.assign(into, from);
    else anew.push(name);
  };
  take("condition", conditionVersion, hash(conditionSettings(unit)), state.condition);
  take("stale", 1, hash(state.silence), state.stale);
  take("overdue", 1, hash(overdueSettings(unit)), state.overdue);
  take("upkeep", 1, "", state.upkeep);
  const clock = parts.clock?.data as { life: object; watch: object } | undefined;
  take("clock", 1, hash(state.clock.settings), state.clock.watch, clock?.watch);
  if (!anew.includes("clock")) Object.assign(state.clock.life, clock?.life);
  Object.assign(state.layUp, parts["lay-up"]?.data);
  state.openServices = (parts.service?.data ?? []) as UnitState["openServices"];
  for (const mine of state.rules) {
    const saved = parts[mine.rule.alarm]?.data as
      | { memory: unknown; delay: object; life: object }
      | undefined;
    const settings = hash(mine.settings);
    take(
      mine.rule.alarm,
      mine.rule.version,
      settings,
      mine,
      saved && { memory: saved.memory, delay: saved.delay },
    );
    if (!anew.includes(mine.rule.alarm) && saved) Object.assign(mine.life, saved.life);
  }
  return { state, anew };
}

/** The alarms' lives in a kept unit's parts, whatever they rest on. */
export function livesIn(parts: Parts): AlarmLife[] {
  return [...alarmNames, "stale", "overdue", "clock"].flatMap((name): AlarmLife[] => {
    const data = parts[name]?.data as (Partial<AlarmLife> & { life?: AlarmLife }) | undefined;
    if (data === undefined) return [];
    return [data.life ?? (data as AlarmLife)];
  });
}
