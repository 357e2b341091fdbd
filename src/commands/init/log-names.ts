import { logStem } from "../../acquire/ownership.ts";

/** A log's path from the log folder, taken apart. */
export interface LogName {
  readonly path: string;
  /** Folders above it that are not days, outermost first. */
  readonly folders: readonly string[];
  /** Its name without ending and days; empty where it was a day alone. */
  readonly stem: string;
  /** The stem without a number at its end, and that number; none where it has none. */
  readonly base: string;
  readonly counter?: number;
}

const date = String.raw`(?:19|20)\d\d(?:[-_.]?(?:0[1-9]|1[0-2])[-_.]?(?:0[1-9]|[12]\d|3[01])|[-_.](?:0[1-9]|1[0-2]))`;
const clock = String.raw`(?:[-_.T ]?(?:[01]\d|2[0-3])[-_.h:]?[0-5]\d(?:[-_.:]?[0-5]\d)?Z?)?`;
const endsInDate = new RegExp(`(?:^|[-_. ])${date}${clock}$`);
const beginsWithDate = new RegExp(`^${date}${clock}[-_. ]+`);
const dayFolder = new RegExp(`^(?:${date}|(?:19|20)\\d\\d|\\d{1,2})$`);
const counterAtEnd = /^(.*?)(?:[-_. ]|^)\(?(\d{1,6})\)?$/;

/** Takes a path apart; undefined where it does not end as a log does. */
export function logName(path: string): LogName | undefined {
  const parts = path.split("/");
  const written = logStem(parts.pop() ?? "");
  if (written === undefined) return undefined;
  const stem = written.replace(endsInDate, "").replace(beginsWithDate, "").trim();
  const [, base = stem, counter] = counterAtEnd.exec(stem) ?? [];
  return {
    path,
    folders: parts.filter((folder) => !dayFolder.test(folder)),
    stem,
    base: base.trim(),
    ...(counter !== undefined && { counter: Number(counter) }),
  };
}
