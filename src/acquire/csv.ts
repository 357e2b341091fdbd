import { CsvError, parse } from "csv-parse/sync";
import type { Delimiter } from "./dialect.ts";

export interface CsvReading {
  readonly delimiter: Delimiter;
  /** Takes quotes that do not fit together as they stand, for headers. */
  readonly relaxQuotes?: boolean;
  readonly encoding?: "utf8" | "latin1";
}

/** The cells of complete records; a sentence where their quotes break RFC 4180. */
export function cellsOf(bytes: Buffer, reading: CsvReading): string[][] | string {
  try {
    return parse(bytes, {
      delimiter: reading.delimiter,
      encoding: reading.encoding ?? "utf8",
      record_delimiter: ["\r\n", "\n"],
      relax_column_count: true,
      relax_quotes: reading.relaxQuotes ?? false,
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return error.code === "INVALID_OPENING_QUOTE"
      ? "a quote inside a cell that does not begin with one"
      : "its quotes do not fit together";
  }
}
