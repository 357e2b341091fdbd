import { z } from "zod";
import type { ServiceRecord, Unit } from "../fleet/unit.ts";
import { priorities } from "../terms/alarms.ts";
import type { Evidence } from "../terms/events.ts";
import { fourDigits } from "../terms/number.ts";
import { age, day, iso } from "../terms/time.ts";

/** Settings of a rule that looks at a clock; its intervals are the unit's `service`. */
export const overdueSettings = z.strictObject({
  priority: z.enum(priorities).default("prompt"),
});

const works = ["inspection", "cleaning"] as const;
type Work = (typeof works)[number];

/** What is on record of a unit's upkeep; plain data. */
export interface Upkeep {
  /** Its first reading, from which on it counts where nothing is on record. */
  firstMs: number | null;
  /** When each work was last done. */
  readonly doneMs: Record<Work, number | null>;
}

/** A work and when it falls due. */
export interface DueWork {
  readonly work: Work;
  readonly everyMs: number;
  /** From when on it is counted: `recorded` when it was done, else the first reading. */
  readonly fromMs: number;
  readonly recorded: boolean;
  readonly dueMs: number;
}

export function startUpkeep(): Upkeep {
  return { firstMs: null, doneMs: { inspection: null, cleaning: null } };
}

/** Takes in a record; one of a work that is only begun, that lapsed, or that has no interval, changes nothing. */
export function noteService({ doneMs }: Upkeep, { work, step, atMs }: ServiceRecord): void {
  const mine = works.find((known) => known === work);
  if (mine !== undefined && (step === "end" || step === "done")) doneMs[mine] = atMs;
}

/**
 * The works with an interval and when each falls due; none before the first reading. A unit that is laid up waits
 * for its season, by `nextInSeason`, and what was last seen to out of season counts from its beginning.
 */
export function dueWorks(
  { service }: Pick<Unit, "service">,
  { firstMs, doneMs }: Upkeep,
  nextInSeason: (timeMs: number) => number,
): readonly DueWork[] {
  if (firstMs === null) return [];
  return works.map((work) => {
    const everyMs = work === "inspection" ? service.inspectionEveryMs : service.cleaningEveryMs;
    const done = doneMs[work];
    const fromMs = done ?? firstMs;
    const dueMs = nextInSeason(nextInSeason(fromMs) + everyMs);
    return { work, everyMs, fromMs, recorded: done !== null, dueMs };
  });
}

/** Which works are overdue and since when, in words; `due` is not empty. */
export function sayOverdue(due: readonly DueWork[]): string {
  return due
    .map(({ work, everyMs, fromMs, recorded }) => {
      const on = iso(fromMs).slice(0, 10);
      const since = recorded ? `last done on ${on}` : `none on record since the first reading on ${on}`;
      return `${work[0].toUpperCase()}${work.slice(1)} is overdue: ${since}, due every ${age(everyMs)}.`;
    })
    .join(" ");
}

/** How long each overdue work has waited, held against its interval. */
export function overdueEvidence(due: readonly DueWork[], timeMs: number): Evidence {
  return Object.fromEntries(
    due.map(({ work, everyMs, fromMs }) => [
      `since_${work}`,
      { value: fourDigits((timeMs - fromMs) / day), limit: fourDigits(everyMs / day), unit: "d" },
    ]),
  );
}
