import type { FoundLogs } from "../acquire/find.ts";
import type { Latest } from "../acquire/intake.ts";
import type { LogStatus } from "../acquire/log-status.ts";
import { openUnitLog, type UnitLog } from "../acquire/unit-log.ts";
import type { UnitResponses } from "../assess/response.ts";
import { startUnit, step } from "../engine.ts";
import { foundAt } from "../fleet/found.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import type { StoredWord } from "../terms/words.ts";
import { alarmViews } from "./alarm-views.ts";
import { type FirstLook, lookAtEnd, viewFirstLook } from "./first-look.ts";
import type { UnitView } from "./fleet-view.ts";
import { logView } from "./log-view.ts";
import { type Player, startPlayer } from "./play.ts";
import { type Recent, rememberEvent, startRecent } from "./recent.ts";
import { hearIn, noteIn } from "./respond.ts";
import type { Restored } from "./restore.ts";
import { type Summing, startSumming } from "./summing.ts";
import { trendOf } from "./trend.ts";
import { peopleViews, viewUnit } from "./view.ts";

/** A unit whose logs are followed. */
export interface Following {
  readonly log: UnitLog;
  readonly player: Player;
  readonly recent: Recent;
  /** What people have done about its alarms. */
  readonly responses: UnitResponses;
  summing: Summing;
  seq: number;
  /** Its logs have not been read up to now since the start. */
  behind: boolean;
  firstLook: FirstLook | undefined;
  /** Its log is in the midst of a read: `log.save()` does not say where its state stands. */
  reading: boolean;
  /** From when on its silence is judged, by a clock that goes on evenly: later than now where the clock has leapt. */
  silentFromMs: number;
  /** Since when it differs from what was kept of it, by `performance.now`; null where it does not. */
  changedMs: number | null;
  /** Told, and not kept yet. */
  unkept: AlarmEvent[];
  /** Rows that it has taken in since it was kept. */
  unkeptRows: number;
  /** What visits found here and still holds. */
  found: ReturnType<typeof foundAt>;
  wordRow: number;
  serviceRow: number;
  /** What it knew before its logs had to be read again from their beginning; else null. */
  readAgain: Restored["readAgain"];
}

export function startFollowing(unit: Unit, fleet: Fleet, latest: Latest, restored?: Restored): Following {
  return {
    log: openUnitLog(unit, fleet, { latest, ...(restored?.logs && { saved: restored.logs }) }),
    player: restored?.player ?? startPlayer(startUnit(unit, fleet), restored?.services ?? fleet.services),
    recent: startRecent(signalsOf(unit)),
    responses: restored?.responses ?? {},
    summing: restored?.summing ?? startSumming(),
    seq: restored?.seq ?? 0,
    behind: true,
    firstLook: undefined,
    reading: false,
    silentFromMs: Number.NEGATIVE_INFINITY,
    changedMs: null,
    unkept: [],
    unkeptRows: 0,
    found: foundAt(unit, restored?.recorded ?? []),
    wordRow: restored?.wordRow ?? 0,
    serviceRow: restored?.serviceRow ?? 0,
    readAgain: restored?.readAgain ?? null,
  };
}

/** What it tells of the logger's clock that a batch has just come, where the logs had been read up to now. */
export function noticeArrival(
  { player, log, behind }: Following,
  batch: ReadingBatch,
  nowMs: number,
): Finding[] {
  const refusedMs = log.takeRefused();
  if (behind) return [];
  const refused = refusedMs.flatMap((readingMs) =>
    step(player.state, { kind: "refused", timeMs: nowMs, readingMs }),
  );
  if (batch.rows === 0) return refused;
  return [...refused, ...step(player.state, { kind: "arrived", timeMs: nowMs })];
}

/** A unit's findings as its next events, which its recent past and the people track take in. */
export function eventsOf(following: Following, findings: readonly Finding[]): AlarmEvent[] {
  const { unit } = following.player.state;
  const toldMs = following.readAgain?.toldMs ?? Number.NEGATIVE_INFINITY;
  return findings
    .filter(({ timeMs }) => timeMs > toldMs)
    .map((finding) => {
      following.seq++;
      const event = { ...finding, unit: unit.id, seq: following.seq };
      rememberEvent(following.recent, event);
      noteIn(following.responses, unit, event, following.behind);
      following.unkept.push(event);
      return event;
    });
}

/** The newest reading of the middle one of units; of two, of the one behind. -∞ where none has any. */
export function typicalLastMs(units: Iterable<Following>): number {
  const last = [...units]
    .map(({ player }) => player.state.condition.lastTimeMs ?? Number.NEGATIVE_INFINITY)
    .sort((a, b) => a - b);
  return last[Math.floor((last.length - 1) / 2)] ?? Number.NEGATIVE_INFINITY;
}

/** Takes in a person's word; false where it came in before. */
export function hear(following: Following, word: StoredWord): boolean {
  if (word.row <= following.wordRow) return false;
  following.wordRow = word.row;
  hearIn(following.responses, word);
  return true;
}

/** The units of a screen: they are shown before the others have been taken up, or their logs looked at. */
export const screenful = 60;

/**
 * Looks at the ends of the logs of those units that are behind, rows after `latestMs()` left out, until `closed()`;
 * `onScreenful` after the first that fill a screen.
 */
export async function lookAtEnds(
  units: Iterable<Following>,
  fleet: Fleet,
  files: FoundLogs["files"],
  latestMs: () => number,
  closed: () => boolean,
  onScreenful: () => void,
): Promise<void> {
  let many = 0;
  for (const following of units) {
    if (closed()) return;
    if (many++ === screenful) onScreenful();
    if (!following.behind) continue;
    const { unit } = following.player.state;
    const look = await lookAtEnd(unit, fleet, files.get(unit.id) ?? [], latestMs(), following.firstLook);
    if (following.behind) following.firstLook = look;
  }
}

/** What the screen shows of it at `nowMs`; `problem` is why its logs cannot be found or read. */
export function viewFollowing(
  { player: { state, services }, behind, firstLook, responses, recent, found }: Following,
  fleet: Fleet,
  status: LogStatus,
  problem: string | undefined,
  nowMs: number,
): UnitView {
  const log = logView(status);
  if (behind) {
    const view = viewFirstLook(state, fleet, firstLook, log, problem ?? null, nowMs);
    // What was kept of it stands until the rest is read: an alarm does not vanish because a collector starts.
    return {
      ...view,
      alarms: alarmViews(state, responses, fleet.display, nowMs),
      ...peopleViews(state, responses, nowMs, services),
      ...found,
    };
  }
  const trend = trendOf(recent, nowMs);
  return {
    ...viewUnit(state, fleet, log, problem ?? status.problem, nowMs, responses, services),
    ...(trend && { trend }),
    ...found,
  };
}
