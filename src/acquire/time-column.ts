import { quoted } from "../fleet/quantity.ts";
import { dateOrderOf, type OrderGuess } from "./date-order.ts";
import { timeNames } from "./headers.ts";
import { newTimeMemory, readTime, type TimeForm, timeForm, whyNoTime } from "./time.ts";
import type { DateOrder } from "./written-date.ts";
import type { ZoneReader } from "./zone.ts";

export interface TimeColumn {
  readonly index: number;
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
  const found = header.flatMap((name, index) => {
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
  if (best !== undefined) {
    const { index, form, dateOrder } = best;
    return dateOrder === undefined ? { index, form } : { index, form, dateOrder };
  }
  const likely = header.findIndex((name) => /time|date|zeit|datum|epoch|stamp/i.test(name));
  if (likely < 0) return `no column of times in its header ${quoted(header.join(","))}`;
  const cell = (rows[0]?.[likely] ?? "").trim();
  return `its times cannot be read: ${quoted(header[likely])}: ${whyNoTime(cell, zone, timezone)}`;
}
