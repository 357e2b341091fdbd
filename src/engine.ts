import { tellingOrder } from "./assess/causes.ts";
import {
  backInOrder,
  type ClockChange,
  type ClockWatch,
  lookAtWatch,
  noteGap,
  startClockWatch,
  takeArrival,
  takeLateReading,
  takeOrdered,
  takeRefused,
} from "./assess/clock-watch.ts";
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
import { type ClockSettings, clockSettings } from "./detect/clock-fault.ts";
import {
  type StaleSettings,
  sayStale,
  staleAfterMs,
  stalePriority,
  staleSettings,
} from "./detect/readings-stale.ts";
import { type CommonSettings, verdict } from "./detect/rule.ts";
import { type AnyRule, rules } from "./detect/rules.ts";
import { sensorSettings } from "./detect/sensor-fault.ts";
import {
  dueWorks,
  noteService,
  overdueEvidence,
  overdueSettings,
  sayOverdue,
  startUpkeep,
  type Upkeep,
} from "./detect/service-overdue.ts";
import { spoken } from "./fleet/display.ts";
import { settingsAt } from "./fleet/limits.ts";
import { laidUp, nextInSeason, wantedRunning } from "./fleet/schedule.ts";
import { type Signal, signalsOf } from "./fleet/signals.ts";
import type { Fleet, ServiceRecord, Unit } from "./fleet/unit.ts";
import { type AlarmName, comparePriority, type Priority } from "./terms/alarms.ts";
import { type LateTimes, type ReadingBatch, rowsOf } from "./terms/batch.ts";
import type { Finding } from "./terms/events.ts";
import { fourDigits } from "./terms/number.ts";

export type Input =
  | { readonly kind: "readings"; readonly batch: ReadingBatch }
  /** Readings whose times had been before, in the order in which they came after the readings so far. */
  | { readonly kind: "late"; readonly rows: LateTimes }
  /** Readings have just come, while their log is followed: the collector's clock. */
  | { readonly kind: "arrived"; readonly timeMs: number }
  /** A row was refused, its time too far ahead of the collector's clock, `timeMs`. */
  | { readonly kind: "refused"; readonly timeMs: number; readonly readingMs: number }
  /** What a silent unit must tell. */
  | { readonly kind: "clock"; readonly timeMs: number }
  /** A time that has passed, by a clock or by readings: what services are overdue by it. */
  | { readonly kind: "due"; readonly timeMs: number }
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
  /** In the order of telling; the same objects as in `rules`, and those that look at a clock. */
  readonly lives: readonly AlarmLife[];
  readonly stale: AlarmLife;
  readonly overdue: AlarmLife;
  readonly clock: { readonly life: AlarmLife; readonly settings: ClockSettings; readonly watch: ClockWatch };
  readonly upkeep: Upkeep;
  /** Services and planned stops begun and not yet ended. */
  openServices: readonly ServiceRecord[];
}

/** Events say numbers in stored units, whatever people see. */
const stored = spoken("si");
const backToNormal = "Back to normal.";
const recorded = "The work is done and on record.";

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
  const overdue = startLife("service-overdue", settingsAt(unit, "service-overdue", overdueSettings).priority);
  const clockRule = settingsAt(unit, "clock-fault", clockSettings);
  const clock = {
    life: startLife("clock-fault", clockRule.priority),
    settings: clockRule,
    watch: startClockWatch(),
  };
  const lives = [...ruleStates.map((r) => r.life), stale, overdue, clock.life];
  const isLaidUp = laidUp(unit, fleet.timezone);
  return {
    unit,
    signals,
    laidUp: isLaidUp,
    nextInSeason: nextInSeason(unit, fleet.timezone),
    conditioned: {
      unit,
      wanted: wantedRunning(unit, fleet.timezone),
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

/** Takes in one input and returns what changed, in the order of telling. */
export function step(state: UnitState, input: Input): Finding[] {
  const findings: Finding[] = [];
  if (input.kind === "readings") takeReadings(state, input.batch, findings);
  else if (input.kind === "clock") lookAtClock(state, input.timeMs, findings);
  else if (input.kind === "due") noticeOverdue(state, input.timeMs, findings);
  else if (input.kind === "late") takeLate(state, input.rows, findings);
  else if (input.kind === "arrived") noticeArrival(state, input.timeMs, findings);
  else if (input.kind === "refused") noticeRefused(state, input.timeMs, input.readingMs, findings);
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

/** The moment from which a service of this unit is overdue, ms; +∞ where that has been told or no reading has come yet. */
export function unitOverdueFromMs(state: UnitState): number {
  const { upkeep, unit, overdue, nextInSeason } = state;
  if (overdue.phase === "on") return Number.POSITIVE_INFINITY;
  const due = dueWorks(unit, upkeep, nextInSeason).map(({ dueMs }) => dueMs);
  return Math.max(upkeep.firstMs ?? Number.POSITIVE_INFINITY, Math.min(...due));
}

/** Which services of this unit are overdue at a time, in words. */
export function unitOverdueWords(state: UnitState, timeMs: number): string {
  return sayOverdue(overdueAt(state, timeMs));
}

function overdueAt({ unit, upkeep, nextInSeason }: UnitState, timeMs: number) {
  return dueWorks(unit, upkeep, nextInSeason).filter(({ dueMs }) => dueMs <= timeMs);
}

function underService(state: UnitState): boolean {
  return state.openServices.length > 0;
}

function takeReadings(state: UnitState, batch: ReadingBatch, findings: Finding[]): void {
  const inOrder = batch.rows > 0 ? backInOrderAt(state, batch) : batch.rows;
  takeRows(state, rowsOf(batch, 0, inOrder), findings);
  if (inOrder === batch.rows) return;
  const { watch, life } = state.clock;
  settleClock(state, backInOrder(watch, life, batch.timeMs[inOrder]), findings);
  takeRows(state, rowsOf(batch, inOrder, batch.rows), findings);
}

/** The row at which readings have come in order for long enough after the clock stepped back; else all rows. */
function backInOrderAt(
  { clock: { watch, life, settings } }: UnitState,
  { rows, timeMs }: ReadingBatch,
): number {
  if (watch.fault === null) return rows;
  const afterMs = watch.back?.afterMs ?? Number.NEGATIVE_INFINITY;
  let row = 0;
  while (row < rows && timeMs[row] <= afterMs) row++;
  if (row === rows || !takeOrdered(watch, life, timeMs[row])) return rows;
  const dueMs = (watch.normalSinceMs ?? 0) + settings.off_delay;
  while (row < rows && timeMs[row] < dueMs) row++;
  return row;
}

function takeLate(state: UnitState, { timeMs, afterMs }: LateTimes, findings: Finding[]): void {
  const { watch, life, settings } = state.clock;
  const onMs = longer(settings.delay, unitIntervalMs(state));
  for (let row = 0; row < timeMs.length; row++) {
    settleClock(state, takeLateReading(watch, life, settings, onMs, afterMs[row], timeMs[row]), findings);
  }
}

function noticeArrival(state: UnitState, clockMs: number, findings: Finding[]): void {
  const { watch, life, settings } = state.clock;
  const last = state.condition.lastTimeMs;
  if (last === null) return;
  settleClock(state, takeArrival(watch, life, settings, unitStaleAfterMs(state), clockMs, last), findings);
}

function noticeRefused(state: UnitState, clockMs: number, readingMs: number, findings: Finding[]): void {
  const { watch, life, settings } = state.clock;
  settleClock(state, takeRefused(watch, life, settings, clockMs, readingMs), findings);
}

function settleClock(state: UnitState, change: ClockChange | null, findings: Finding[]): void {
  if (change === null) return;
  settle(state.lives, underService(state), change.timeMs, () => change.normalSinceMs, findings);
}

function takeRows(state: UnitState, batch: ReadingBatch, findings: Finding[]): void {
  if (batch.rows === 0) return;
  endSilence(state, batch.timeMs[0], findings);
  state.upkeep.firstMs ??= batch.timeMs[0];
  const columns = scratchColumns(batch.rows, state.signals.length);
  for (let from = 0; from < batch.rows; ) {
    const before = { baseline: state.condition.baseline, intervalMs: unitIntervalMs(state) };
    const previousMs = state.condition.lastTimeMs ?? Number.NaN;
    const to = condition(state.condition, state.conditioned, batch, from, columns);
    const features = featuresOf(state.conditioned, batch, columns, before);
    const gapMs = staleAfterMs(state.unit, before.intervalMs, state.silence);
    noteGaps(state.clock.watch, batch.timeMs, from, to, previousMs, gapMs);
    const changes: Change[] = [];
    for (const [place, rule] of state.rules.entries()) {
      const { met, own } = scratchVerdicts(place, batch.rows, rule.rule.ownColumns ?? 1);
      rule.rule.run(rule.memory, features, from, to, rule.settings, met, own);
      const delays = {
        onMs: longer(rule.settings.delay, before.intervalMs),
        offMs: longer(rule.settings.off_delay, before.intervalMs),
        gapMs,
      };
      runDelays(rule.delay, delays, batch.timeMs, met, from, to, previousMs, (at) => {
        changes.push({ rule, place, row: at.row, at });
      });
      if (rule.rule.priorityAt || rule.rule.restates) seeChanges(rule, place, features, from, to, changes);
    }
    if (changes.length > 0) settleChanges(state, features, changes, findings);
    from = to;
  }
}

function noteGaps(
  watch: ClockWatch,
  timeMs: Float64Array,
  from: number,
  to: number,
  previousMs: number,
  gapMs: number,
): void {
  let before = previousMs;
  for (let row = from; row < to; row++) {
    if (timeMs[row] - before > gapMs) noteGap(watch, before, timeMs[row]);
    before = timeMs[row];
  }
}

/** What changes an alarm at a row: its delays, or how urgent it has become. */
interface Change {
  readonly rule: RuleState;
  readonly place: number;
  readonly row: number;
  readonly at?: Transition;
  readonly urgency?: Priority;
}

/** Notes where a rule's own priority, or what it restates, changes from one row that is met to the next. */
function seeChanges(
  state: RuleState,
  place: number,
  features: Features,
  from: number,
  to: number,
  changes: Change[],
): void {
  const { rule, settings } = state;
  const { met, own } = verdicts[place];
  const columns = rule.ownColumns ?? 1;
  let last: Priority | undefined;
  let lastOwn = Number.NaN;
  for (let row = from; row < to; row++) {
    if (met[row] !== verdict.met) continue;
    const urgency = rule.priorityAt?.(features, row, settings, own);
    const restated = rule.restates && own[row * columns] !== lastOwn;
    if (urgency !== last || restated) changes.push({ rule: state, place, row, urgency });
    last = urgency;
    lastOwn = own[row * columns];
  }
}

function longer(delayMs: number, interval: number): number {
  return delayMs === 0 ? 0 : Math.max(delayMs, fewestIntervals * interval);
}

function settleChanges(state: UnitState, features: Features, changes: Change[], findings: Finding[]): void {
  changes.sort((a, b) => a.row - b.row || a.place - b.place);
  const normalSince = new Map<AlarmName, number>();
  for (let k = 0; k < changes.length; ) {
    const { row } = changes[k];
    for (; k < changes.length && changes[k].row === row; k++) {
      const { rule, place, at, urgency } = changes[k];
      const { life } = rule;
      if (at === undefined) {
        if (life.phase !== "on") continue;
        const isMoreUrgent = urgency !== undefined && comparePriority(urgency, life.ownPriority) < 0;
        if (isMoreUrgent) life.ownPriority = urgency;
        const own = verdicts[place].own[row * (rule.rule.ownColumns ?? 1)];
        if (isMoreUrgent || (rule.rule.restates && own !== life.saidOf))
          sayRow(state.unit, features, rule, place, row);
        continue;
      }
      life.phase = at.kind === "began" ? "pending" : at.kind === "on" ? "on" : "off";
      if (at.kind === "began" || at.kind === "abandoned") continue;
      life.ownPriority = rule.settings.priority;
      if (at.kind === "on") {
        life.sinceMs = at.sinceMs;
        const urgency = rule.rule.priorityAt?.(features, row, rule.settings, verdicts[place].own);
        if (urgency && comparePriority(urgency, life.ownPriority) < 0) life.ownPriority = urgency;
        sayRow(state.unit, features, rule, place, row);
      } else {
        normalSince.set(life.alarm, at.sinceMs);
        const numbers = rule.rule.numbers(features, row, rule.settings, verdicts[place].own);
        life.evidence = evidenceOf(rule.rule.evidence, numbers);
        life.message = backToNormal;
      }
    }
    const timeMs = features.timeMs[row];
    settle(state.lives, underService(state), timeMs, (a) => normalSince.get(a) ?? timeMs, findings);
  }
}

/** The reason for an alarm from the numbers of one row. */
function sayRow(
  unit: Unit,
  features: Features,
  { rule, settings, life }: RuleState,
  place: number,
  row: number,
): void {
  life.numbers = rule.numbers(features, row, settings, verdicts[place].own);
  life.evidence = evidenceOf(rule.evidence, life.numbers);
  life.message = rule.say(life.numbers, unit, stored);
  life.saidOf = rule.restates ? verdicts[place].own[row * (rule.ownColumns ?? 1)] : null;
}

function lookAtClock(state: UnitState, timeMs: number, findings: Finding[]): void {
  const { clock } = state;
  const last = state.condition.lastTimeMs;
  if (last !== null) {
    const silentMs = unitStaleAfterMs(state);
    settleClock(
      state,
      lookAtWatch(clock.watch, clock.life, clock.settings, silentMs, timeMs, last),
      findings,
    );
  }
  noticeSilence(state, timeMs, findings);
}

function noticeOverdue(state: UnitState, timeMs: number, findings: Finding[]): void {
  const overdueMs = unitOverdueFromMs(state);
  if (timeMs < overdueMs) return;
  const works = overdueAt(state, overdueMs);
  const { overdue } = state;
  overdue.phase = "on";
  overdue.sinceMs = Math.min(...works.map(({ dueMs }) => dueMs));
  overdue.message = sayOverdue(works);
  overdue.evidence = overdueEvidence(works, overdueMs);
  settle(state.lives, underService(state), overdueMs, () => overdueMs, findings);
}

function noticeSilence(state: UnitState, timeMs: number, findings: Finding[]): void {
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
  for (const mine of state.rules) {
    if (mine.rule.serviced?.(mine.memory, record)) endRule(mine);
  }
  noteService(state.upkeep, record);
  endOverdue(state, record.atMs);
  if (record.step !== "done") {
    const others = state.openServices.filter(({ work }) => work !== record.work);
    state.openServices = record.step === "begin" ? [...others, record] : others;
  }
  const returned = underService(state) ? [] : clearReturned(state);
  const normalSince = (alarm: AlarmName) => returned.find((r) => r.alarm === alarm)?.sinceMs ?? record.atMs;
  settle(state.lives, underService(state), record.atMs, normalSince, findings);
}

function endRule({ delay, life, settings }: RuleState): void {
  Object.assign(delay, startDelay());
  if (life.phase !== "on") return;
  life.phase = "off";
  life.ownPriority = settings.priority;
  life.message = recorded;
}

function endOverdue(state: UnitState, timeMs: number): void {
  const { overdue } = state;
  if (overdue.phase !== "on" || overdueAt(state, timeMs).length > 0) return;
  overdue.phase = "off";
  overdue.message = recorded;
  overdue.evidence = {};
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

function scratchVerdicts(place: number, rows: number, ownColumns: number) {
  let mine = verdicts[place];
  if (mine === undefined || mine.met.length < rows || mine.own.length < rows * ownColumns) {
    const capacity = Math.max(rows, 4096);
    mine = { met: new Uint8Array(capacity), own: new Float64Array(capacity * ownColumns) };
    verdicts[place] = mine;
  }
  return mine;
}
