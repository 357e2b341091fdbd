import { quoted } from "../fleet/quantity.ts";
import { dateOrderOf, type OrderGuess } from "./date-order.ts";
import { timeNames } from "./headers.ts";
import { newTimeMemory, readTime, type TimeForm, timeForm, whyNoTime } from "./time.ts";
import { isClock, joined } from "./time-cell.ts";
import type { DateOrder } from "./written-date.ts";
import type { ZoneReader } from "./zone.ts";

export interface TimeColumn {
  readonly index: number;
  /** Where the dates have a column of their own. */
  readonly date?: number;
  readonly form: TimeForm;
  /** Where its dates have slashes. */
  readonly dateOrder?: OrderGuess;
}

/** A number is taken for a Unix time from 1985 on: counters of rows and of seconds since a start are smaller. */
const earliestMs = Date.UTC(1985, 0, 1);
/** So many of the cells must be times: a line cut short or two may stand among them. */
const enoughTimes = 0.9;
/** So many rows tell which column is the times'. */
const rowsLooked = 100;
const preferred: readonly TimeForm[] = ["with offset", "local", "Unix seconds", "Unix milliseconds"];

function formOf(
  cells: readonly string[],
  zone: ZoneReader,
  order: DateOrder | undefined,
): TimeForm | undefined {
  const memory = newTimeMemory();
  const forms = cells.flatMap((cell) => {
    const timeMs = readTime(cell, zone, memory, order);
    return Number.isNaN(timeMs) || timeMs < earliestMs ? [] : [timeForm(cell)];
  });
  return forms.length > 0 && forms.length >= enoughTimes * cells.length ? forms[0] : undefined;
}

interface Found extends TimeColumn {
  /** How well it is named, the best first. */
  readonly named: number;
}

/** The first column of dates beside the first of times of the day; undefined where there are none. */
function partedTime(
  header: readonly string[],
  rows: readonly (readonly string[])[],
  zone: ZoneReader,
): TimeColumn | undefined {
  const cellsOf = (index: number) => rows.map((row) => (row[index] ?? "").trim());
  const index = header.findIndex((_, i) => {
    const cells = cellsOf(i).slice(0, rowsLooked);
    return cells.length > 0 && cells.filter(isClock).length >= enoughTimes * cells.length;
  });
  if (index < 0) return undefined;
  const clocks = cellsOf(index);
  for (const date of header.keys()) {
    if (date === index) continue;
    const cells = cellsOf(date).map((cell, i) => joined(cell, clocks[i] ?? ""));
    const dateOrder = dateOrderOf(cells, zone);
    const form = formOf(cells.slice(0, rowsLooked), zone, dateOrder?.order);
    if (form !== undefined) return { index, date, form, ...(dateOrder && { dateOrder }) };
  }
  return undefined;
}

/**
 * The column that holds a log's times, by its name and its cells; a sentence where there is none. Zone and its name
 * are for times without an offset.
 */
export function timeColumnOf(
  header: readonly string[],
  rows: readonly (readonly string[])[],
  zone: ZoneReader,
  timezone: string,
): TimeColumn | string {
  const found = header.flatMap((name, index): readonly Found[] => {
    const cells = rows.map((row) => (row[index] ?? "").trim());
    const dateOrder = dateOrderOf(cells, zone);
    const form = formOf(cells.slice(0, rowsLooked), zone, dateOrder?.order);
    const named = (timeNames as readonly string[]).indexOf(name.trim().toLowerCase());
    return form === undefined
      ? []
      : [{ index, form, dateOrder, named: named < 0 ? timeNames.length : named }];
  });
  const [best] = found.toSorted(
    (a, b) => a.named - b.named || preferred.indexOf(a.form) - preferred.indexOf(b.form) || a.index - b.index,
  );
  const isNumber = best?.form === "Unix seconds" || best?.form === "Unix milliseconds";
  // A number that nothing names may be anything: a date beside a clock is a time.
  const parted =
    best === undefined || (isNumber && best.named === timeNames.length)
      ? partedTime(header, rows, zone)
      : undefined;
  if (parted !== undefined) return parted;
  if (best !== undefined) {
    const { index, form, dateOrder } = best;
    return dateOrder === undefined ? { index, form } : { index, form, dateOrder };
  }
  const likely = header.findIndex((name) => /time|date|zeit|datum|epoch|stamp/i.test(name));
  if (likely < 0) return `no column of times in its header ${quoted(header.join(","))}`;
  const cell = (rows[0]?.[likely] ?? "").trim();
  return `its times cannot be read: ${quoted(header[likely])}: ${whyNoTime(cell, zone, timezone)}`;
}
