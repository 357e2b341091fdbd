import { takesBack } from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { Interval } from "./intervals.ts";

/** One work at a unit, from its begin to its end. */
export interface ServiceRow {
  readonly work: ServiceRecord["work"];
  readonly fromMs: number;
  /** Null while it lasts. */
  readonly toMs: number | null;
  readonly outcome:
    | "done"
    | "under way"
    | "ended by itself"
    | "taken back"
    | "over"
    | "planned"
    | "confirmed"
    | "learned anew";
  readonly by?: string;
  readonly note?: string;
}

/** A unit's records, in order of time and with their lapses, as works; `nowMs` tells what is under way or to come. */
export function serviceRows(records: readonly ServiceRecord[], nowMs: number): ServiceRow[] {
  return records.flatMap((record, place): ServiceRow[] => {
    const { work, step, atMs } = record;
    const row = (toMs: number | null, outcome: ServiceRow["outcome"], last = record): ServiceRow => {
      const by = record.by ?? last.by;
      const notes = [...new Set([record.note, last.note].filter((note) => note !== undefined))];
      return {
        work,
        fromMs: atMs,
        toMs,
        outcome,
        ...(by !== undefined && { by }),
        ...(notes.length > 0 && { note: notes.join("; ") }),
      };
    };
    if (step === "done") return [row(atMs, "done")];
    if (step === "confirm") return [row(atMs, "confirmed")];
    if (step === "relearn") return [row(atMs, "learned anew")];
    if (step === "end") return isBegun(records.slice(0, place), work) ? [] : [row(atMs, "done")];
    if (step !== "begin" || takesBack(record)) return [];
    const next = records.slice(place + 1).find((one) => one.work === work && one.step !== "done");
    if (next !== undefined && takesBack(next)) return [row(next.atMs, "taken back", next)];
    if (next !== undefined && next.atMs <= nowMs) {
      const isStop = work === "planned stop";
      return [row(next.atMs, isStop ? "over" : next.step === "end" ? "done" : "ended by itself", next)];
    }
    return [row(record.untilMs ?? null, atMs > nowMs ? "planned" : "under way")];
  });
}

function isBegun(before: readonly ServiceRecord[], work: ServiceRecord["work"]): boolean {
  return before.findLast((one) => one.work === work && one.step !== "done")?.step === "begin";
}

/** Whether a work has to do with a period. */
export function touches({ fromMs, toMs }: Pick<ServiceRow, "fromMs" | "toMs">, period: Interval): boolean {
  return fromMs < period.toMs && (toMs ?? Number.POSITIVE_INFINITY) >= period.fromMs;
}
