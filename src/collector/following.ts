import type { FoundLogs } from "../acquire/find.ts";
import type { Latest } from "../acquire/intake.ts";
import type { LogStatus } from "../acquire/log-status.ts";
import { openUnitLog, type UnitLog } from "../acquire/unit-log.ts";
import { startUnit, type UnitState } from "../engine.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import { age, minute } from "../terms/time.ts";
import { type FirstLook, lookAtEnd, viewFirstLook } from "./first-look.ts";
import type { UnitView } from "./fleet-view.ts";
import { logView } from "./log-view.ts";
import { type Player, startPlayer } from "./play.ts";
import { type Recent, rememberEvent, startRecent } from "./recent.ts";
import { viewUnit } from "./view.ts";

/** A unit whose logs are followed. */
export interface Following {
  readonly log: UnitLog;
  readonly player: Player;
  readonly recent: Recent;
  seq: number;
  /** Its logs have not been read up to now since the start. */
  behind: boolean;
  firstLook: FirstLook | undefined;
}

export function startFollowing(unit: Unit, fleet: Fleet, latest: Latest): Following {
  return {
    log: openUnitLog(unit, fleet, { latest }),
    player: startPlayer(startUnit(unit, fleet), fleet.services),
    recent: startRecent(signalsOf(unit)),
    seq: 0,
    behind: true,
    firstLook: undefined,
  };
}

/** A unit's findings as its next events, which its recent past keeps. */
export function eventsOf(following: Following, findings: readonly Finding[]): AlarmEvent[] {
  const unit = following.player.state.unit.id;
  return findings.map((finding) => {
    following.seq++;
    const event = { ...finding, unit, seq: following.seq };
    rememberEvent(following.recent, event);
    return event;
  });
}

/** Looks at the ends of the logs of those units that are behind, rows after `latestMs()` left out, until `closed()`. */
export async function lookAtEnds(
  units: Iterable<Following>,
  fleet: Fleet,
  files: FoundLogs["files"],
  latestMs: () => number,
  closed: () => boolean,
): Promise<void> {
  for (const following of units) {
    if (closed()) return;
    if (!following.behind) continue;
    const { unit } = following.player.state;
    const look = await lookAtEnd(unit, fleet, files.get(unit.id) ?? [], latestMs(), following.firstLook);
    if (following.behind) following.firstLook = look;
  }
}

/** Clocks that differ by less are nothing to tell of. */
const noticedAheadMs = 2 * minute;

/** Why rows of a unit are not judged now: one came with a time ahead of the clock, and the rest count as late. */
function aheadOfClock({ condition }: UnitState, nowMs: number): string | null {
  const aheadByMs = (condition.lastTimeMs ?? nowMs) - nowMs;
  if (aheadByMs < noticedAheadMs) return null;
  return `its newest reading is ${age(aheadByMs)} ahead of the clock here, and rows before that time are not judged; set the logger's clock`;
}

/** What the screen shows of it at `nowMs`; `problem` is why its logs cannot be found or read. */
export function viewFollowing(
  { player: { state }, behind, firstLook }: Following,
  fleet: Fleet,
  status: LogStatus,
  problem: string | undefined,
  nowMs: number,
): UnitView {
  const log = logView(status);
  if (behind) return viewFirstLook(state.unit, fleet, firstLook, log, problem ?? null, nowMs);
  return viewUnit(state, fleet, log, problem ?? status.problem ?? aheadOfClock(state, nowMs), nowMs);
}
