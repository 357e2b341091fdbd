import { tellingOrder } from "../assess/causes.ts";
import { type ClockWatch, startClockWatch } from "../assess/clock-watch.ts";
import { type DelayState, startDelay } from "../assess/delays.ts";
import { type AlarmLife, startLife } from "../assess/life.ts";
import type { Conditioned } from "../condition/condition.ts";
import { type ConditionState, startCondition } from "../condition/condition-state.ts";
import { intervalIsSeen, intervalMs } from "../condition/interval.ts";
import { type ClockSettings, clockSettings } from "../detect/clock-fault.ts";
import { type StaleSettings, staleAfterMs, stalePriority, staleSettings } from "../detect/readings-stale.ts";
import type { CommonSettings } from "../detect/rule.ts";
import { type AnyRule, rules } from "../detect/rules.ts";
import { sensorSettings } from "../detect/sensor-fault.ts";
import { overdueSettings, startUpkeep, type Upkeep } from "../detect/service-overdue.ts";
import { settingsAt } from "../fleet/limits.ts";
import { laidUp, nextInSeason, nextLaidUp, outOfSeasonSince, wantedRunning } from "../fleet/schedule.ts";
import { type Signal, signalsOf } from "../fleet/signals.ts";
import type { Fleet, ServiceRecord, Unit } from "../fleet/unit.ts";
import { minute } from "../terms/time.ts";
import { isOnRecord, type LayUp, quietUntilMs, startLayUp } from "./lay-up.ts";

/** A rule at one unit: its settings, its memory and its delays. */
export interface RuleState {
  readonly rule: AnyRule;
  readonly settings: CommonSettings;
  memory: unknown;
  delay: DelayState;
  readonly life: AlarmLife;
}

/** One unit's whole path. `step` owns and changes it; `encode` makes a checkpoint of it. */
export interface UnitState {
  readonly unit: Unit;
  readonly signals: readonly Signal[];
  readonly conditioned: Conditioned;
  /** Whether the unit is laid up, by its season or on record; its logger may then be off. */
  readonly laidUp: (timeMs: number) => boolean;
  /** Since when it is out of season, at a time at which it is, ms. */
  readonly outOfSeasonSince: (timeMs: number) => number;
  readonly nextLaidUp: (timeMs: number) => number;
  readonly layUp: LayUp;
  readonly nextInSeason: (timeMs: number) => number;
  readonly silence: StaleSettings;
  condition: ConditionState;
  readonly rules: readonly RuleState[];
  /** In the order of telling; the same objects as in `rules`, and those that look at a clock. */
  readonly lives: readonly AlarmLife[];
  readonly stale: AlarmLife;
  readonly overdue: AlarmLife;
  readonly clock: { readonly life: AlarmLife; readonly settings: ClockSettings; readonly watch: ClockWatch };
  readonly upkeep: Upkeep;
  /** Services and planned stops begun and not yet ended. */
  openServices: readonly ServiceRecord[];
}

/** A unit before its first reading. */
export function startUnit(unit: Unit, fleet: Pick<Fleet, "timezone">): UnitState {
  const signals = signalsOf(unit);
  const ruleStates = rules
    .filter((rule) => rule.quiet?.(unit, null) === undefined)
    .map((rule): RuleState => {
      const settings = settingsAt(unit, rule.alarm, rule.settings);
      return {
        rule,
        settings,
        memory: rule.start(unit),
        delay: startDelay(),
        life: startLife(rule.alarm, settings.priority),
      };
    });
  const silence = settingsAt(unit, "readings-stale", staleSettings);
  const stale = startLife("readings-stale", stalePriority(unit, silence));
  const overdue = startLife("service-overdue", settingsAt(unit, "service-overdue", overdueSettings).priority);
  const clockRule = settingsAt(unit, "clock-fault", clockSettings);
  const clock = {
    life: startLife("clock-fault", clockRule.priority),
    settings: clockRule,
    watch: startClockWatch(),
  };
  const lives = [...ruleStates.map((r) => r.life), stale, overdue, clock.life];
  const isOut = laidUp(unit, fleet.timezone);
  const wanted = wantedRunning(unit, fleet.timezone);
  const lays = { layUp: startLayUp(), nextLaidUp: nextLaidUp(unit, fleet.timezone) };
  const isLaidUp = (timeMs: number): boolean => isOut(timeMs) || isOnRecord(lays, timeMs);
  return {
    unit,
    signals,
    laidUp: isLaidUp,
    outOfSeasonSince: outOfSeasonSince(unit, fleet.timezone),
    ...lays,
    nextInSeason: nextInSeason(unit, fleet.timezone),
    conditioned: {
      unit,
      wanted: (timeMs) => (isOnRecord(lays, timeMs) ? 0 : wanted(timeMs)),
      laidUp: isLaidUp,
      frozenAfterMs: settingsAt(unit, "sensor-fault", sensorSettings).frozen_after,
    },
    silence,
    condition: startCondition(unit, signals),
    rules: ruleStates,
    lives: lives.sort((a, b) => tellingOrder[a.alarm] - tellingOrder[b.alarm]),
    stale,
    overdue,
    clock,
    upkeep: startUpkeep(),
    openServices: [],
  };
}

/** The unit's sample interval as known now, ms. */
export function unitIntervalMs(state: UnitState): number {
  return intervalMs(state.condition.interval);
}

/** One reading does not tell when the next is due: nobody samples a pump more seldom (house choice). */
const firstStepMs = 30 * minute;

/** Silence after which this unit's readings are stale, ms. */
export function unitStaleAfterMs(state: UnitState): number {
  const limitMs = staleAfterMs(state.unit, unitIntervalMs(state), state.silence);
  return intervalIsSeen(state.condition.interval) ? limitMs : Math.max(limitMs, firstStepMs);
}

/** The moment from which this unit's readings are stale, ms; a unit that is laid up may be silent. +∞ before its first reading. */
export function unitStaleFromMs(state: UnitState): number {
  const last = state.condition.lastTimeMs;
  return last === null
    ? Number.POSITIVE_INFINITY
    : state.nextInSeason(Math.max(last + unitStaleAfterMs(state), quietUntilMs(state)));
}

/** The moment at which a silence that is told is no longer asked about, since the unit's season is over, ms; +∞ without a season. */
export function unitStaleUntilMs(state: UnitState): number {
  return state.nextLaidUp(unitStaleFromMs(state));
}

/** Whether somebody works on the unit, or has planned its stop. */
export function underService(state: UnitState): boolean {
  return state.openServices.length > 0;
}

/** Delays are counted in time or in this many sample intervals, whichever is longer. */
const fewestIntervals = 3;

/** A delay, ms: the time, or so many sample intervals if that is longer; 0 stays 0. */
export function longer(delayMs: number, interval: number): number {
  return delayMs === 0 ? 0 : Math.max(delayMs, fewestIntervals * interval);
}
