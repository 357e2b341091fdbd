import { guidance } from "../advise/guidance.ts";
import type { UnitResponses } from "../assess/response.ts";
import { holdFor } from "../condition/condition.ts";
import { operating } from "../condition/features.ts";
import { stalePriority } from "../detect/readings-stale.ts";
import type { Limit } from "../detect/rule.ts";
import { isOnRecord } from "../engine/lay-up.ts";
import { type UnitState, unitIntervalMs, unitStaleAfterMs } from "../engine.ts";
import { stopsAhead } from "../fleet/services.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import type { Channel } from "../terms/channels.ts";
import { alarmViews, notesIn, setAside } from "./alarm-views.ts";
import { baselineWords } from "./baseline-note.ts";
import type { LogView, ReadingView, UnitState as StateWord, UnitView } from "./fleet-view.ts";
import { judgedAnew } from "./judged-anew.ts";
import { notJudged } from "./not-judged.ts";
import { upkeepView } from "./upkeep-view.ts";

/** Half the width of the normal band: four robust standard deviations, at least this part of the centre (house choice). */
const bandFraction = 0.05;

/** What the screen and `check` show of one unit at `clockMs`; `responses`: what people have done about its alarms; `services`: those to come. */
export function viewUnit(
  state: UnitState,
  fleet: Pick<Fleet, "display" | "timezone">,
  log: LogView,
  problem: string | null,
  clockMs: number,
  responses: UnitResponses = {},
  services: readonly ServiceRecord[] = [],
): UnitView {
  const { unit, condition } = state;
  const last = condition.lastTimeMs;
  const problemPriority = stalePriority(unit, state.silence);
  const silent = last === null || clockMs >= last + unitStaleAfterMs(state);
  return {
    id: unit.id,
    site: unit.site ?? null,
    state: stateWord(state, state.laidUp(clockMs), silent),
    sinceMs: stateSince(state, silent, clockMs),
    lastReadingMs: last,
    intervalMs: last === null ? null : unitIntervalMs(state),
    ...baselineWords(state, fleet),
    readings: readings(state, last),
    alarms: alarmViews(state, responses, fleet.display, clockMs),
    ...peopleViews(state, responses, clockMs, services),
    ...due(state, clockMs),
    quiet: [...notJudged(state), ...judgedAnew(state, responses, fleet.timezone)],
    log,
    ...(last !== null && {
      gaps: { longerThanMs: unitStaleAfterMs(state), spans: state.clock.watch.gaps },
    }),
    problem,
    ...(problem !== null && {
      ...(last !== null && { unreadSinceMs: last }),
      unreadHowSoon: guidance("readings-stale", problemPriority, unit).howSoon,
    }),
    problemPriority,
  };
}

/** What people have set aside, begun and remarked at a unit, and planned for it. */
export function peopleViews(
  state: UnitState,
  responses: UnitResponses,
  clockMs: number,
  services: readonly ServiceRecord[],
): Pick<UnitView, "setAside" | "begun" | "notes" | "planned"> {
  const begun = state.openServices;
  const planned = stopsAhead(services, clockMs);
  const notes = notesIn(responses, clockMs);
  return {
    setAside: setAside(responses),
    ...(begun.length > 0 && { begun }),
    ...(planned.length > 0 && { planned }),
    ...(notes.length > 0 && { notes }),
  };
}

function due(state: UnitState, nowMs: number): Pick<UnitView, "upkeep"> {
  const upkeep = upkeepView(state, nowMs);
  return upkeep === undefined ? {} : { upkeep };
}

function stateWord(state: UnitState, isLaidUp: boolean, silent: boolean): StateWord {
  if (state.openServices.length > 0) return "under service";
  if (silent) return isLaidUp ? "laid up" : "no readings";
  switch (state.condition.state) {
    case operating.running:
      return "running";
    case operating.priming:
      return "priming";
    case operating.stopped:
      return isLaidUp ? "laid up" : "stopped";
    default:
      return "no readings";
  }
}

/** Since when the state of `stateWord` holds, ms; null where that is not known. */
function stateSince(state: UnitState, silent: boolean, clockMs: number): number | null {
  const { openServices, condition, layUp, outOfSeasonSince } = state;
  if (openServices.length > 0) return Math.min(...openServices.map(({ atMs }) => atMs));
  if (stateWord(state, state.laidUp(clockMs), silent) === "laid up")
    return isOnRecord(state, clockMs) ? layUp.sinceMs : outOfSeasonSince(clockMs);
  if (silent) return condition.lastTimeMs;
  return Number.isNaN(condition.stateSinceMs) ? null : condition.stateSinceMs;
}

function readings(state: UnitState, last: number | null): ReadingView[] {
  const { condition, signals, unit } = state;
  const hold = holdFor(unitIntervalMs(state));
  const limits = state.rules.flatMap((r) => r.rule.limits?.(unit, condition.baseline, r.settings) ?? []);
  const views: ReadingView[] = [];
  for (const [s, { channel, part }] of signals.entries()) {
    if (!condition.seen[s] || last === null) continue;
    const fresh = last - condition.heldAtMs[s] <= hold;
    const clean = condition.baseline?.signals[s];
    const half = clean ? Math.max(4 * clean.spread, bandFraction * Math.abs(clean.center)) : 0;

    views.push({
      channel,
      part,
      value: fresh ? condition.held[s] : null,
      normal:
        // A baseline holds only for the operating state in which it was taken (ISO 17359).
        clean && !isStatus(channel) && condition.state === operating.running
          ? { center: clean.center, low: clean.center - half, high: clean.center + half }
          : null,
      limitLow: limitOf(limits, channel, "low"),
      limitHigh: limitOf(limits, channel, "high"),
    });
  }
  return views;
}

/** The tightest of the rules' limits on one side. */
function limitOf(limits: readonly Limit[], channel: Channel, side: Limit["side"]): number | null {
  const values = limits.filter((l) => l.channel === channel && l.side === side).map((l) => l.value);
  if (values.length === 0) return null;
  return side === "low" ? Math.max(...values) : Math.min(...values);
}

function isStatus(channel: Channel): boolean {
  return channel === "ozone" || channel === "run_command";
}
