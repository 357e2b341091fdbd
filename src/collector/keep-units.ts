import type { AlarmEvent } from "../terms/events.ts";
import { minute, second } from "../terms/time.ts";
import { encodeUnit } from "./checkpoint.ts";
import { eventLine } from "./event-lines.ts";
import type { Following } from "./following.ts";
import type { Keeping } from "./keeping.ts";
import type { KeptPeople } from "./restore.ts";
import { isFull, takeFull } from "./summing.ts";

/** A unit that has changed is kept after so long, or after so many rows of a backlog; at once with what it told. */
const keepAfterMs = minute;
const keepAfterRows = 1_000_000;
/** After a refusal all is tried again this much later. */
export const tryAgainMs = 5 * second;

/** Notes that a unit differs from what was kept of it; `atOnce`: by what is to be kept at the next look. */
export function noteChange(following: Following, atOnce = false): void {
  if (atOnce) following.changedMs = Number.NEGATIVE_INFINITY;
  else following.changedMs ??= performance.now();
}

/** Whether so much of a unit's backlog was read that it should be kept within it. */
export function hasReadMuch({ unkeptRows, summing }: Following): boolean {
  return isFull(summing) || unkeptRows >= keepAfterRows;
}

/** The units that are to be kept now; in the midst of a read none can be. */
export function unitsToKeep(units: Iterable<Following>): Following[] {
  const nowMs = performance.now();
  return [...units].filter(
    ({ reading, unkept, behind, changedMs, summing }) =>
      !reading &&
      ((unkept.length > 0 && !behind) ||
        (changedMs !== null && nowMs - changedMs >= keepAfterMs) ||
        isFull(summing, true)),
  );
}

/** Keeps units as they stand with all that they told; false where that was refused. `closing` leaves nothing over. */
export function keepUnits(
  keeping: Keeping,
  units: readonly { readonly following: Following; readonly reading: string }[],
  nowMs: number,
  closing: boolean,
  onKept: (event: AlarmEvent) => void = () => {},
): boolean {
  if (units.length === 0) return true;
  const taken = units.map(({ following, reading }) => {
    const { player, log, responses, unkept, wordRow, serviceRow, summing, readAgain } = following;
    const { rows, left } = takeFull(summing, nowMs, closing);
    const { playedMs, services } = player;
    const waiting = services.filter(({ atMs }) => atMs <= playedMs);
    const people: KeptPeople = { responses, summing: left, playedMs, waiting, reading, readAgain };
    const save = {
      unit: player.state.unit.id,
      text: encodeUnit(player.state),
      logs: log.save(),
      people,
      events: unkept.map((event) => ({
        unit: event.unit,
        seq: event.seq,
        timeMs: event.timeMs,
        line: eventLine(event),
      })),
      wordRow,
      serviceRow,
      summaries: rows,
    };
    return { following, left, save };
  });
  if (!keeping.save(taken.map(({ save }) => save))) return false;
  for (const { following, left } of taken) {
    following.summing = left;
    for (const event of following.unkept) onKept(event);
    following.unkept = [];
    following.changedMs = null;
    following.unkeptRows = 0;
  }
  return true;
}
