import { backInOrder, type ClockWatch, noteGap } from "../assess/clock-watch.ts";
import { anyMet, runDelays, type Transition } from "../assess/delays.ts";
import { evidenceOf } from "../assess/evidence.ts";
import { settle } from "../assess/life.ts";
import { condition, featuresOf } from "../condition/condition.ts";
import { type FeatureColumns, featureColumns } from "../condition/condition-state.ts";
import { type Features, operating } from "../condition/features.ts";
import { staleAfterMs } from "../detect/readings-stale.ts";
import { verdict } from "../detect/rule.ts";
import { spoken } from "../fleet/display.ts";
import type { Unit } from "../fleet/unit.ts";
import { type AlarmName, comparePriority, type Priority } from "../terms/alarms.ts";
import { type ReadingBatch, rowsOf } from "../terms/batch.ts";
import type { Finding } from "../terms/events.ts";
import { backInOrderAt, endSilence, settleClock } from "./clock.ts";
import { isOnRecord, noticeStart } from "./lay-up.ts";
import { longer, type RuleState, type UnitState, underService, unitIntervalMs } from "./unit-state.ts";

/** What is said where a reading is back to normal. */
export const backToNormal = "Back to normal.";
/** What is said of these where the motor stands by then: nobody knows whether the pump is well. */
const hadStopped = "The motor had stopped.";
const onlyWhileRunning: ReadonlySet<AlarmName> = new Set([
  "lost-prime",
  "failed-to-prime",
  "cavitation",
  "suction-restricted",
  "suction-air",
  "discharge-restricted",
  "discharge-open",
  "impeller-fouled",
  "gas-supply-low",
  "gas-backflow-risk",
  "ozone-off",
  "ozone-without-water",
  "unusual-running",
]);
/** Events say numbers in stored units, whatever people see. */
const stored = spoken("si");

/** Takes in a batch of readings; from where they come in order again the logger's clock is. */
export function takeReadings(state: UnitState, batch: ReadingBatch, findings: Finding[]): void {
  const inOrder = batch.rows > 0 ? backInOrderAt(state, batch) : batch.rows;
  takeRows(state, rowsOf(batch, 0, inOrder), findings);
  if (inOrder === batch.rows) return;
  const { watch, life } = state.clock;
  settleClock(state, backInOrder(watch, life, batch.timeMs[inOrder]), findings);
  takeRows(state, rowsOf(batch, inOrder, batch.rows), findings);
}

function takeRows(state: UnitState, batch: ReadingBatch, findings: Finding[]): void {
  let from = 0;
  // What is wanted of a laid-up unit changes with the row at which it is started.
  for (; from < batch.rows && isOnRecord(state, batch.timeMs[from]); from++) {
    takeStretches(state, rowsOf(batch, from, from + 1), findings);
    noticeStart(state);
  }
  takeStretches(state, rowsOf(batch, from, batch.rows), findings);
}

function takeStretches(state: UnitState, batch: ReadingBatch, findings: Finding[]): void {
  if (batch.rows === 0) return;
  endSilence(state, batch.timeMs[0], findings);
  state.upkeep.firstMs ??= batch.timeMs[0];
  const columns = scratchColumns(batch.rows, state.signals.length);
  for (let from = 0; from < batch.rows; ) {
    const { baseline, firstBaseline } = state.condition;
    const before = { baseline, firstBaseline, intervalMs: unitIntervalMs(state) };
    const previousMs = state.condition.lastTimeMs ?? Number.NaN;
    const to = condition(state.condition, state.conditioned, batch, from, columns);
    const features = featuresOf(state.conditioned, batch, columns, before);
    const gapMs = staleAfterMs(state.unit, before.intervalMs, state.silence);
    if (columns.longestStepMs > gapMs) noteGaps(state.clock.watch, batch.timeMs, from, to, previousMs, gapMs);
    const changes: Change[] = [];
    for (const [place, rule] of state.rules.entries()) {
      const { met, words, own } = scratchVerdicts(place, batch.rows, rule.rule.ownColumns ?? 1);
      rule.rule.run(rule.memory, features, from, to, rule.settings, met, own);
      if (rule.delay.phase === "off" && !anyMet(words, from, to)) continue;
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

const phaseAfter = { began: "pending", lapsed: "held", abandoned: "off", on: "on", off: "off" } as const;

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
      life.phase = phaseAfter[at.kind];
      if (at.kind !== "on" && at.kind !== "off") continue;
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
        const stands = features.state[row] === operating.stopped;
        life.message = stands && onlyWhileRunning.has(life.alarm) ? hadStopped : backToNormal;
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
  life.saidMs = features.timeMs[row];
  life.saidOf = rule.restates ? verdicts[place].own[row * (rule.ownColumns ?? 1)] : null;
}

// Scratch columns, made once and shared by all units: `step` leaves nothing in them that it needs again.
let scratch: FeatureColumns = featureColumns(0, 0);
const verdicts: { met: Uint8Array; words: Uint32Array; own: Float64Array }[] = [];

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
    const words = new Uint32Array(Math.ceil(capacity / 4));
    mine = { met: new Uint8Array(words.buffer), words, own: new Float64Array(capacity * ownColumns) };
    verdicts[place] = mine;
  }
  return mine;
}
