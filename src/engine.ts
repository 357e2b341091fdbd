import { tellingOrder } from "./assess/causes.ts";
import { type DelayState, runDelays, startDelay, type Transition } from "./assess/delays.ts";
import { evidenceOf } from "./assess/evidence.ts";
import { type AlarmLife, settle, startLife } from "./assess/life.ts";
import { type Conditioned, condition, featuresOf } from "./condition/condition.ts";
import {
  type ConditionState,
  type FeatureColumns,
  featureColumns,
  startCondition,
} from "./condition/condition-state.ts";
import type { Features } from "./condition/features.ts";
import { intervalMs } from "./condition/interval.ts";
import {
  type StaleSettings,
  sayStale,
  staleAfterMs,
  stalePriority,
  staleSettings,
} from "./detect/readings-stale.ts";
import type { CommonSettings } from "./detect/rule.ts";
import { type AnyRule, rules } from "./detect/rules.ts";
import { spoken } from "./fleet/display.ts";
import { settingsAt } from "./fleet/limits.ts";
import { laidUp, nextInSeason, wantedRunning } from "./fleet/schedule.ts";
import { type Signal, signalsOf } from "./fleet/signals.ts";
import type { Fleet, ServiceRecord, Unit } from "./fleet/unit.ts";
import type { AlarmName } from "./terms/alarms.ts";
import type { ReadingBatch } from "./terms/batch.ts";
import type { Finding } from "./terms/events.ts";
import { fourDigits } from "./terms/number.ts";

export type Input =
  | { readonly kind: "readings"; readonly batch: ReadingBatch }
  /** What a silent unit must tell. */
  | { readonly kind: "clock"; readonly timeMs: number }
  | { readonly kind: "service"; readonly record: ServiceRecord };

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
  /** Whether the unit is out of its season; its logger may then be off. */
  readonly laidUp: (timeMs: number) => boolean;
  readonly nextInSeason: (timeMs: number) => number;
  readonly silence: StaleSettings;
  condition: ConditionState;
  readonly rules: readonly RuleState[];
  /** In the order of telling; the same objects as in `rules`, and that of `readings-stale`. */
  readonly lives: readonly AlarmLife[];
  readonly stale: AlarmLife;
  /** Services and planned stops begun and not yet ended. */
  openServices: readonly ServiceRecord[];
}

/** Events say numbers in stored units, whatever people see. */
const stored = spoken("si");
const backToNormal = "Back to normal.";

/** Delays are counted in time or in this many sample intervals, whichever is longer. */
const fewestIntervals = 3;

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
  const lives = [...ruleStates.map((r) => r.life), stale];
  return {
    unit,
    signals,
    laidUp: laidUp(unit, fleet.timezone),
    nextInSeason: nextInSeason(unit, fleet.timezone),
    conditioned: { unit, wanted: wantedRunning(unit, fleet.timezone) },
    silence,
    condition: startCondition(unit, signals),
    rules: ruleStates,
    lives: lives.sort((a, b) => tellingOrder[a.alarm] - tellingOrder[b.alarm]),
    stale,
    openServices: [],
  };
}

/** Takes in one input and returns what changed, in the order of telling. */
export function step(state: UnitState, input: Input): Finding[] {
  const findings: Finding[] = [];
  if (input.kind === "readings") takeReadings(state, input.batch, findings);
  else if (input.kind === "clock") lookAtClock(state, input.timeMs, findings);
  else takeService(state, input.record, findings);
  return findings;
}

/** The unit's sample interval as known now, ms. */
export function unitIntervalMs(state: UnitState): number {
  return intervalMs(state.condition.interval);
}

/** Silence after which this unit's readings are stale, ms. */
export function unitStaleAfterMs(state: UnitState): number {
  return staleAfterMs(state.unit, unitIntervalMs(state), state.silence);
}

/** The moment from which this unit's readings are stale, ms; a unit that is laid up may be silent. +∞ before its first reading. */
export function unitStaleFromMs(state: UnitState): number {
  const last = state.condition.lastTimeMs;
  return last === null ? Number.POSITIVE_INFINITY : state.nextInSeason(last + unitStaleAfterMs(state));
}

function underService(state: UnitState): boolean {
  return state.openServices.length > 0;
}

function takeReadings(state: UnitState, batch: ReadingBatch, findings: Finding[]): void {
  if (batch.rows === 0) return;
  endSilence(state, batch.timeMs[0], findings);
  const columns = scratchColumns(batch.rows, state.signals.length);
  for (let from = 0; from < batch.rows; ) {
    const before = { baseline: state.condition.baseline, intervalMs: unitIntervalMs(state) };
    const previousMs = state.condition.lastTimeMs ?? Number.NaN;
    const to = condition(state.condition, state.conditioned, batch, from, columns);
    const features = featuresOf(state.conditioned, batch, columns, before);
    const gapMs = staleAfterMs(state.unit, before.intervalMs, state.silence);
    const changes: { rule: RuleState; place: number; at: Transition }[] = [];
    for (const [place, rule] of state.rules.entries()) {
      const { met, own } = scratchVerdicts(place, batch.rows);
      rule.rule.run(rule.memory, features, from, to, rule.settings, met, own);
      const delays = {
        onMs: longer(rule.settings.delay, before.intervalMs),
        offMs: longer(rule.settings.off_delay, before.intervalMs),
        gapMs,
      };
      runDelays(rule.delay, delays, batch.timeMs, met, from, to, previousMs, (at) => {
        changes.push({ rule, place, at });
      });
    }
    if (changes.length > 0) settleChanges(state, features, changes, findings);
    from = to;
  }
}

function longer(delayMs: number, interval: number): number {
  return delayMs === 0 ? 0 : Math.max(delayMs, fewestIntervals * interval);
}

function settleChanges(
  state: UnitState,
  features: Features,
  changes: { rule: RuleState; place: number; at: Transition }[],
  findings: Finding[],
): void {
  changes.sort((a, b) => a.at.row - b.at.row || a.place - b.place);
  const normalSince = new Map<AlarmName, number>();
  for (let k = 0; k < changes.length; ) {
    const { row } = changes[k].at;
    for (; k < changes.length && changes[k].at.row === row; k++) {
      const { rule, place, at } = changes[k];
      const { life } = rule;
      life.phase = at.kind === "began" ? "pending" : at.kind === "on" ? "on" : "off";
      if (at.kind === "began" || at.kind === "abandoned") continue;
      const numbers = rule.rule.numbers(features, row, rule.settings, verdicts[place].own);
      life.evidence = evidenceOf(rule.rule.evidence, numbers);
      if (at.kind === "on") {
        life.sinceMs = at.sinceMs;
        life.message = rule.rule.say(numbers, state.unit, stored);
        life.numbers = numbers;
      } else {
        normalSince.set(life.alarm, at.sinceMs);
        life.message = backToNormal;
      }
    }
    const timeMs = features.timeMs[row];
    settle(state.lives, underService(state), timeMs, (a) => normalSince.get(a) ?? timeMs, findings);
  }
}

function lookAtClock(state: UnitState, timeMs: number, findings: Finding[]): void {
  const last = state.condition.lastTimeMs;
  const staleMs = unitStaleFromMs(state);
  if (last === null || state.stale.phase === "on" || timeMs < staleMs) return;
  const limit = unitStaleAfterMs(state);
  state.stale.phase = "on";
  state.stale.sinceMs = last;
  state.stale.message = sayStale(state.unit, limit);
  state.stale.evidence = {
    last_reading_age: { value: fourDigits((staleMs - last) / 1000), limit: limit / 1000, unit: "s" },
  };
  settle(state.lives, underService(state), staleMs, () => last, findings);
}

function endSilence(state: UnitState, timeMs: number, findings: Finding[]): void {
  if (state.stale.phase !== "on") return;
  state.stale.phase = "off";
  state.stale.message = "Readings come again.";
  const silence = state.stale.evidence.last_reading_age;
  const last = state.condition.lastTimeMs ?? timeMs;
  state.stale.evidence = { last_reading_age: { ...silence, value: fourDigits((timeMs - last) / 1000) } };
  // A reading that was delivered late is older than the moment at which its absence was told.
  const toldMs = Math.max(timeMs, state.stale.raisedMs);
  settle(state.lives, underService(state), toldMs, () => timeMs, findings);
}

function takeService(state: UnitState, record: ServiceRecord, findings: Finding[]): void {
  if (record.step === "done") return;
  const others = state.openServices.filter(({ work }) => work !== record.work);
  state.openServices = record.step === "begin" ? [...others, record] : others;
  const returned = underService(state) ? [] : clearReturned(state);
  const normalSince = (alarm: AlarmName) => returned.find((r) => r.alarm === alarm)?.sinceMs ?? record.atMs;
  settle(state.lives, underService(state), record.atMs, normalSince, findings);
}

/** What is back to normal when a service ends is over with it: only its off-delay still ran. */
function clearReturned({ rules: states }: UnitState): { alarm: AlarmName; sinceMs: number }[] {
  const returned: { alarm: AlarmName; sinceMs: number }[] = [];
  for (const { delay, life } of states) {
    if (life.told !== "suppressed" || life.by !== "service" || delay.normalSinceMs === null) continue;
    returned.push({ alarm: life.alarm, sinceMs: delay.normalSinceMs });
    delay.phase = "off";
    delay.normalSinceMs = null;
    life.phase = "off";
    life.message = backToNormal;
  }
  return returned;
}

// Scratch columns, made once and shared by all units: `step` leaves nothing in them that it needs again.
let scratch: FeatureColumns = featureColumns(0, 0);
const verdicts: { met: Uint8Array; own: Float64Array }[] = [];

function scratchColumns(rows: number, signals: number): FeatureColumns {
  if (scratch.capacity < rows || scratch.value.length < signals) {
    scratch = featureColumns(Math.max(rows, scratch.capacity, 4096), Math.max(signals, scratch.value.length));
  }
  return scratch;
}

function scratchVerdicts(place: number, rows: number) {
  let mine = verdicts[place];
  if (mine === undefined || mine.met.length < rows) {
    const capacity = Math.max(rows, 4096);
    mine = { met: new Uint8Array(capacity), own: new Float64Array(capacity) };
    verdicts[place] = mine;
  }
  return mine;
}
