import { takesBack, withLapses } from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { StoredService } from "../store/services.ts";
import { minute } from "../terms/time.ts";

/** A service as it stands in the history; without `by` one that ended by its time. */
export interface Served extends Pick<ServiceRecord, "unit" | "work" | "by" | "note" | "untilMs"> {
  readonly timeMs: number;
  readonly event: "begun" | "ended" | "done" | "planned" | "taken back" | "confirmed" | "relearned";
  /** The begin of a planned stop. */
  readonly fromMs?: number;
  /** When it was put on record, where that was later. */
  readonly saidMs?: number;
  /** Its place on record; absent of one that ended by its time. */
  readonly row?: number;
}

/** A record that comes sooner was made while it was done. */
const lateMs = minute;

/** Services as the history tells them, by time; one that nobody ended ends by its time, once that has come at `nowMs`. */
export function serving(records: readonly StoredService[], nowMs: number): Served[] {
  const said = records.map((record): Served => {
    const { unit, work, by, note, untilMs, saidMs, row, atMs } = record;
    const event = eventOf(record);
    const told = event === "planned" || event === "taken back";
    return {
      timeMs: told ? saidMs : atMs,
      unit,
      work,
      event,
      by,
      ...(note !== undefined && { note }),
      ...(untilMs !== undefined && event !== "taken back" && { untilMs }),
      ...(event === "planned" && { fromMs: atMs }),
      ...(!told && saidMs - atMs >= lateMs && { saidMs }),
      row,
    };
  });
  const back = records.filter(takesBack);
  const isTakenBack = ({ unit, work, atMs }: ServiceRecord): boolean =>
    back.some((one) => one.unit === unit && one.work === work && one.untilMs === atMs);
  const lapses = [...Map.groupBy(records, ({ unit }) => unit).values()]
    .flatMap(withLapses)
    .filter((one) => one.step === "lapse" && one.atMs <= nowMs && !isTakenBack(one))
    .map(({ unit, work, atMs }): Served => ({ timeMs: atMs, unit, work, event: "ended" }));
  return [...said, ...lapses].sort((a, b) => a.timeMs - b.timeMs);
}

function eventOf(record: ServiceRecord): Served["event"] {
  if (takesBack(record)) return "taken back";
  switch (record.step) {
    case "begin":
      return record.work === "planned stop" ? "planned" : "begun";
    case "confirm":
      return "confirmed";
    case "relearn":
      return "relearned";
    case "done":
      return "done";
    default:
      return "ended";
  }
}
