import { parse } from "csv-parse/sync";

/** A row of a table, by the names of its columns. */
export interface KeyedRow<Key extends string> {
  /** In the file, from 1. */
  readonly line: number;
  /** A cell without the blanks about it; empty where the row is too short, or the table has no such column. */
  cell(key: Key): string;
}

/**
 * A small table kept by hand as CSV: a header with at least the columns `keys`, in any order and case, then a row a
 * thing; columns of `More` may be there. `#` begins a comment. `file` is named in the problem, which is a line: what, where, and what to write.
 */
export function readKeyedCsv<Key extends string, More extends string = never>(
  csvText: string,
  file: string,
  keys: readonly Key[],
): { readonly rows: readonly KeyedRow<Key | More>[] } | { readonly problem: string } {
  const header = `write ${keys.join(",")} in its first line`;
  let records: { record: string[]; info: { lines: number } }[];
  try {
    records = parse(csvText, {
      bom: true,
      comment: "#",
      comment_no_infix: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as typeof records;
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    return {
      problem: `${file}:${line} is not CSV: a quote is not closed or stands inside a cell; write ${keys.join(",")}`,
    };
  }
  const [first, ...rest] = records;
  if (first === undefined) return { problem: `${file}: it is empty; ${header}` };
  const names = first.record.map((name) => name.toLowerCase());
  const lacking = keys.filter((key) => !names.includes(key));
  if (lacking.length > 0) {
    return { problem: `${file}:${first.info.lines} has no column ${lacking.join(", ")}; ${header}` };
  }
  return {
    rows: rest.map(({ record, info }) => ({
      line: info.lines,
      cell: (key) => record[names.indexOf(key)] ?? "",
    })),
  };
}
