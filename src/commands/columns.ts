import { basename, dirname, relative } from "node:path";
import { bareFleet } from "../acquire/bare-unit.ts";
import type { LayoutColumn } from "../acquire/dialect.ts";
import { inspectLog, type LogDialect } from "../acquire/inspect.ts";
import type { LogStatus } from "../acquire/log-status.ts";
import { ownershipOf } from "../acquire/ownership.ts";
import { readToEnd } from "../acquire/read-to-end.ts";
import { openUnitLog } from "../acquire/unit-log.ts";
import { intervalIsFixed, intervalMs, learnInterval, newInterval } from "../condition/interval.ts";
import { quoted } from "../fleet/quantity.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { channelUnit } from "../terms/channels.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { iso, span } from "../terms/time.ts";
import { CannotWork, callersPath, fileProblem, print } from "./context.ts";
import { guessed, guessesJson, guessLines } from "./guessed-columns.ts";
import { loadFleet } from "./load-fleet.ts";
import { table } from "./table.ts";

export interface ColumnsOptions {
  readonly fleet?: string;
  readonly unit?: string;
  readonly json?: boolean;
}

interface Gap {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Steps longer than so many sample intervals are gaps. */
const gapIntervals = 3;
const gapsShown = 5;
const rejectedShown = 10;

interface Understood {
  readonly path: string;
  readonly unit: Unit;
  readonly timezone: string;
  readonly dialect: LogDialect;
  readonly status: LogStatus;
  readonly firstMs: number | null;
  readonly lastMs: number | null;
  readonly intervalMs: number;
  readonly intervalFrom: "fleet file" | "learned" | "too few rows";
  readonly gaps: number;
  readonly largestGaps: readonly Gap[];
}

/**
 * `columns`: prints how a log was understood. Throws `CannotWork` where the log or the fleet file cannot be
 * read. Returns the exit status.
 */
export async function columns(
  logPath: string,
  options: ColumnsOptions,
  out: (line: string) => void = print,
): Promise<number> {
  const path = callersPath(logPath);
  const { fleet, unit } = await fleetFor(path, options);
  const dialect = await inspectLog(path, unit).catch((error: unknown) => {
    throw new CannotWork(fileProblem(logPath, error));
  });
  if (typeof dialect === "string") {
    const problem = `${visible(logPath)}: ${dialect}`;
    const guesses = await guessed(path);
    if (guesses === undefined) throw new CannotWork(problem);
    const lines = [visible(logPath), ...guessLines(guesses, logPath, options.fleet)];
    if (options.json === true) out(jsonLine({ log: path, problem: dialect, guesses: guessesJson(guesses) }));
    else for (const line of lines) out(line);
    throw new CannotWork(problem);
  }
  const understood = await readThrough(path, unit, fleet, dialect);
  const guesses = await guessed(path, dialect.layout);
  if (options.json === true) {
    out(jsonLine({ ...asJson(understood), guesses: guesses === undefined ? [] : guessesJson(guesses) }));
  } else {
    const ends = guesses === undefined ? [] : guessLines(guesses, logPath, options.fleet);
    for (const line of [...asText(understood, logPath), ...ends]) out(line);
  }
  return 0;
}

async function fleetFor(path: string, options: ColumnsOptions): Promise<{ fleet: Fleet; unit: Unit }> {
  if (options.fleet === undefined) {
    if (options.unit !== undefined) {
      throw new CannotWork(`--unit ${quoted(options.unit)} needs its fleet file; write --fleet FILE too`);
    }
    return bareFleet(basename(path), dirname(path));
  }
  const { fleet } = await loadFleet(options.fleet);
  const owner = ownershipOf(fleet)(relative(fleet.logs, path).replaceAll("\\", "/"))[0];
  const id = options.unit ?? owner ?? (fleet.units.length === 1 ? fleet.units[0]?.id : undefined);
  const unit = fleet.units.find((other) => other.id === id);
  if (unit !== undefined) return { fleet: { ...fleet, logs: dirname(path) }, unit };
  throw new CannotWork(
    id === undefined
      ? `${visible(options.fleet)}: no unit takes this log by its name; write --unit ID`
      : `--unit ${quoted(id)} is not in ${visible(options.fleet)}; its units are ${fleet.units.map((u) => visible(u.id)).join(", ")}`,
  );
}

async function readThrough(path: string, unit: Unit, fleet: Fleet, dialect: LogDialect): Promise<Understood> {
  const log = openUnitLog(unit, fleet);
  const interval = newInterval(unit.sampleIntervalMs);
  let firstMs: number | null = null;
  let lastMs: number | null = null;
  let gaps = 0;
  let largestGaps: Gap[] = [];
  function see(timesMs: Float64Array): void {
    for (const timeMs of timesMs) {
      learnInterval(interval, timeMs);
      firstMs ??= timeMs;
      if (lastMs !== null && timeMs - lastMs > gapIntervals * intervalMs(interval)) {
        gaps++;
        largestGaps = [...largestGaps, { fromMs: lastMs, toMs: timeMs }]
          .sort((a, b) => b.toMs - b.fromMs - (a.toMs - a.fromMs))
          .slice(0, gapsShown);
      }
      lastMs = timeMs;
    }
  }
  log.setFiles([path]);
  for await (const batch of readToEnd(log)) {
    see(batch.timeMs);
    log.takeLate();
  }
  const status = log.status();
  if (status.problem !== null && !status.readable) throw new CannotWork(status.problem);
  return {
    path,
    unit,
    timezone: fleet.timezone,
    dialect,
    status,
    firstMs,
    lastMs,
    intervalMs: intervalMs(interval),
    intervalFrom:
      unit.sampleIntervalMs !== undefined
        ? "fleet file"
        : intervalIsFixed(interval)
          ? "learned"
          : "too few rows",
    gaps,
    largestGaps,
  };
}

const delimiterNames = { ",": "comma", ";": "semicolon", "\t": "tab" } as const;

function conversionWords(column: LayoutColumn): string {
  if (column.kind !== "number") return column.kind === "status" ? "on, off" : "on, off, fault";
  const stored = channelUnit[column.channel];
  const factor = Number(column.factor.toPrecision(7));
  const offset = Number(column.offset.toPrecision(7));
  const times = factor === 1 ? "" : ` × ${factor}`;
  const plus = offset === 0 ? "" : offset < 0 ? ` − ${-offset}` : ` + ${offset}`;
  const sign = column.vacuum === "no" ? "" : ", a vacuum: counted negative";
  const loop = column.loop ? ", 3.6 mA and less or 21 mA and more: missing" : "";
  const bare = column.header.trim().toLowerCase() === column.channel;
  const same = bare ? `no unit in the header: taken as ${stored}` : "as it is";
  const linear = times === "" && plus === "" ? same : `${visible(column.unit)}${times}${plus} = ${stored}`;
  return `${linear}${sign}${loop}`;
}

function timeWords({ dialect, timezone }: Understood): string {
  const { header, time, date } = dialect.layout;
  const dates = date === undefined ? "" : ` with the dates of ${quoted(header[date])}`;
  const name = `${quoted(header[time])}${dates}`;
  if (dialect.timeForm === undefined) return `${name}, no row with a time yet`;
  return dialect.timeForm === "local"
    ? `${name}, local time in ${visible(timezone)}`
    : `${name}, ${dialect.timeForm}`;
}

function asText(log: Understood, name: string): string[] {
  const { dialect, status } = log;
  const { layout } = dialect;
  const decimal = dialect.decimal === undefined ? "" : `, decimal ${dialect.decimal}`;
  const mark = dialect.byteOrderMark ? ", byte-order mark" : "";
  const interval = {
    "fleet file": "as the fleet file says",
    learned: "median of the first 30 steps",
    "too few rows": "too few rows to be sure",
  };
  const lines = [
    visible(name),
    `dialect    ${delimiterNames[layout.delimiter]}${decimal}, ${dialect.lineEnd}${mark}`,
    `time       ${timeWords(log)}`,
    log.firstMs === null || log.lastMs === null
      ? "readings   none"
      : `readings   ${iso(log.firstMs)} to ${iso(log.lastMs)}, ${span(log.lastMs - log.firstMs)}`,
    `interval   ${log.intervalMs / 1000} s, ${interval[log.intervalFrom]}`,
    `rows       ${status.rows} taken, ${status.repeats} repeats, ${status.joined} joined, ${status.late} late, ${status.rejected} rejected`,
    "",
    ...table(
      [
        ["header", "channel", "unit", "conversion"],
        ...layout.columns.map((c) => [visible(c.header), c.channel, visible(c.unit), conversionWords(c)]),
      ],
      4,
    ),
  ];
  if (layout.ignored.length > 0)
    lines.push("", `ignored    ${layout.ignored.map(quoted).join(", ")}: no channel by its header alone`);
  if (layout.lacking.length > 0)
    lines.push(
      "",
      `lacking    ${layout.lacking.map(quoted).join(", ")}: mapped in the fleet file, not in the header`,
    );
  if (status.problem !== null) lines.push("", `problem    ${status.problem}`);
  const more = log.gaps > log.largestGaps.length ? `; the largest ${log.largestGaps.length}` : "";
  lines.push(
    "",
    log.gaps === 0
      ? "gaps       none"
      : `gaps       ${log.gaps} longer than ${gapIntervals} intervals${more}:`,
  );
  lines.push(...log.largestGaps.map((gap) => `  ${iso(gap.fromMs)}  ${span(gap.toMs - gap.fromMs)}`));
  if (status.rejected > 0) {
    const shown = status.newestRejected.slice(0, rejectedShown);
    lines.push(
      "",
      `rejected   ${status.rejected}${status.rejected > shown.length ? `; the last ${shown.length}` : ""}:`,
    );
    lines.push(...shown.map(({ line, why }) => `  line ${line}: ${visible(why)}`));
  }
  return lines;
}

function asJson(log: Understood) {
  const { dialect, status } = log;
  const { layout } = dialect;
  const time = (ms: number | null): string | null => (ms === null ? null : iso(ms));
  return {
    log: log.path,
    dialect: {
      delimiter: layout.delimiter,
      decimal: dialect.decimal ?? null,
      line_end: dialect.lineEnd,
      byte_order_mark: dialect.byteOrderMark,
    },
    time: {
      header: layout.header[layout.time],
      ...(layout.date !== undefined && { date_header: layout.header[layout.date] }),
      form: dialect.timeForm ?? null,
      timezone: dialect.timeForm === "local" ? log.timezone : null,
    },
    columns: layout.columns.map((c) => ({
      header: c.header,
      channel: c.channel,
      unit: c.unit,
      conversion: conversionWords(c),
    })),
    ignored: layout.ignored,
    lacking: layout.lacking,
    first_reading: time(log.firstMs),
    last_reading: time(log.lastMs),
    sample_interval_s: log.intervalMs / 1000,
    gaps: log.gaps,
    largest_gaps: log.largestGaps.map((gap) => ({ from: iso(gap.fromMs), to: iso(gap.toMs) })),
    problem: status.problem,
    rows: status.rows,
    repeats: status.repeats,
    joined: status.joined,
    late: status.late,
    rejected: status.rejected,
    newest_rejected: status.newestRejected.map(({ line, why }) => ({ line, why })),
  };
}
