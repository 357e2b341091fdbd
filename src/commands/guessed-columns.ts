import { dirname } from "node:path";
import type { OrderGuess } from "../acquire/date-order.ts";
import type { Layout } from "../acquire/dialect.ts";
import { sampleLog } from "../acquire/sample.ts";
import { quoted } from "../fleet/quantity.ts";
import { visible } from "../terms/text.ts";
import { commandName } from "./context.ts";
import type { Guess } from "./init/guess.ts";
import { guessColumns } from "./init/guess-columns.ts";
import { guessTable } from "./init/guess-table.ts";

/** What `init` would make of what is not read as it is. */
export interface Guessed {
  /** The header of the times. */
  readonly time?: string;
  /** The header of the dates, where they have a column of their own. */
  readonly date?: string;
  readonly dateOrder?: OrderGuess;
  readonly columns: readonly Guess[];
}

/** Undefined where `init` could not look into the log either, or all is read already. */
export async function guessed(path: string, layout?: Layout): Promise<Guessed | undefined> {
  const sample = await sampleLog(path).catch(() => "it cannot be read");
  if (typeof sample === "string") return undefined;
  const read = new Set(layout?.columns.map(({ header }) => header));
  const columns = guessColumns([sample]).filter(
    ({ header, recognised, unsure }) => (!recognised && !read.has(header)) || (recognised && unsure),
  );
  const { index, date, dateOrder } = sample.time;
  const isOrderKnown = dateOrder === undefined || layout?.dateOrder !== undefined;
  const isTimeRead = layout !== undefined && isOrderKnown && (date === undefined || layout.date === date);
  if (columns.length === 0 && isTimeRead) return undefined;
  return isTimeRead
    ? { columns }
    : {
        time: sample.cells[index] ?? "",
        ...(date !== undefined && { date: sample.cells[date] ?? "" }),
        dateOrder,
        columns,
      };
}

/** The guesses with their reasons, and how to make use of them. `fleet` is the fleet file that the log was read by. */
export function guessLines(
  { time, date, dateOrder, columns }: Guessed,
  logPath: string,
  fleet?: string,
): readonly string[] {
  const use =
    fleet === undefined
      ? initHint(logPath)
      : `write those that are right under the unit's columns: in ${visible(fleet)}`;
  const order = dateOrder === undefined ? "" : `, time_format: ${dateOrder.order}: ${dateOrder.why}`;
  const dates = date === undefined ? "" : `, date: ${quoted(date)}`;
  const times = time === undefined ? [] : [`           the times: ${quoted(time)}${dates}${order}`];
  const rows = columns.length === 0 ? [] : guessTable(columns);
  return ["", "guesses    what init would make of the others:", ...times, ...rows, "", use];
}

/** The command that writes a fleet file with the guesses of a log's columns. */
function initHint(logPath: string): string {
  return `${commandName()} init ${visible(dirname(logPath))} writes them into a fleet file`;
}

export function guessesJson({ columns }: Guessed) {
  return columns.map(({ header, placed, why, unsure }) => ({
    header,
    channel: placed?.channel ?? null,
    unit: placed?.source.unit ?? null,
    vacuum: placed?.source.vacuum === true,
    why,
    unsure,
  }));
}
