import { takesBack } from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { Interval } from "./intervals.ts";

/** One work at a unit, from its begin to its end. */
export interface ServiceRow<T extends ServiceRecord = ServiceRecord> {
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
  /** The records that tell it. */
  readonly records: readonly T[];
}

/** A unit's records, in order of time and with their lapses, as works; `nowMs` tells what is under way or to come. */
export function serviceRows<T extends ServiceRecord>(records: readonly T[], nowMs: number): ServiceRow<T>[] {
  return records.flatMap((record, place): ServiceRow<T>[] => {
    const { work, step, atMs } = record;
    const row = (toMs: number | null, outcome: ServiceRow["outcome"], last = record): ServiceRow<T> => {
      const joined = (texts: readonly (string | undefined)[], by: string): string =>
        [...new Set(texts.filter((text) => text !== undefined))].join(by);
      const by = joined([record.by, last.by], ", ");
      const note = joined([record.note, last.note], "; ");
      return {
        work,
        fromMs: atMs,
        toMs,
        outcome,
        ...(by !== "" && { by }),
        ...(note !== "" && { note }),
        records: last === record ? [record] : [record, last],
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
      const isStop = work === "planned stop" || next.step === "begin";
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
