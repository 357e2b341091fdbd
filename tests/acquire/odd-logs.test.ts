import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { describe, expect, it, vi } from "vitest";
import { type Outcome, outcomeOf } from "./odd-log-outcome.ts";
import { logFolder } from "./workbench.ts";

/** A reader of a zone's clock learns as it reads. All logs share one here, so that it learns once. */
vi.mock(import("../../src/acquire/zone.ts"), async (original) => {
  const { zoneReader } = await original();
  const chicago = zoneReader("America/Chicago");
  return { zoneReader: (zone) => (zone === "America/Chicago" ? chicago : zoneReader(zone)) };
});

const noForm =
  "is not a time in a form that is read; the log must say 2026-05-04T03:12:20Z or 2026-05-04 03:12:20";
const nameTime = "name one time, timestamp or datetime, or map it with columns: { time: … }";
const incomplete = "no complete header so far; waiting for its first line";
const early = (columns: number): string => `the row ends early: ${columns} of 3 columns`;
const noNumber = (cell: string): string => `'motor_current_a': '${cell}' is not a number`;

/**
 * What must come of each log in odd-logs/, read in a fleet whose zone is America/Chicago. A cell that is
 * neither a value nor missing rejects its row; a log that cannot be used has a problem and no reading.
 */
const logs: Readonly<Record<string, Outcome>> = {
  // How the cells are parted
  "plain.csv": { read: "9.1 9.2" },
  "semicolons.csv": { read: "9.1 9.2" },
  "tabs.csv": { read: "9.1 9.2" },
  "spreadsheets-hint.csv": { read: "9.1" },
  "delimiter-at-the-end-of-rows.csv": { read: "9.1 9.2" },
  "delimiter-at-the-end-of-every-line.csv": { read: "9.1 9.2" },
  "short-row.csv": { read: "9.1 9.4", rejected: [`3: ${early(2)}`, `4: ${early(1)}`] },
  "long-row.csv": { read: "9.2", rejected: ["2: the row has 4 columns, the header 3"] },

  // Lines and their ends
  "crlf.csv": { read: "9.1 9.2" },
  "line-ends-of-both-kinds.csv": { read: "9.1 9.2 9.3" },
  "carriage-returns-alone.csv": { read: "", problem: incomplete },
  "blank-lines.csv": { read: "9.1 9.2" },
  // A row of empty cells alone is a blank line; one with a time is a reading whose values are all missing.
  "rows-of-empty-cells.csv": { read: "9.1 – 9.2" },
  "comments.csv": { read: "9.1 9.2" },
  "no-line-end-at-the-end.csv": { read: "9.1 9.2" },
  "ends-in-the-middle-of-a-row.csv": { read: "9.1", rejected: [`3: ${early(2)}`] },
  "end-of-file-mark-of-DOS.csv": { read: "9.1", rejected: [`3: ${early(1)}`] },

  // Headers
  "byte-order-mark.csv": { read: "9.1" },
  "header-in-any-case-and-order.csv": { read: "9.1" },
  "header-with-blanks.csv": { read: "9.1" },
  "header-in-quotes.csv": { read: "9.1" },
  "header-over-two-lines.csv": { read: "9.1 9.2", rejected: [`6: ${noNumber("oops")}`] },
  "header-again.csv": { read: "9.1 9.2" },
  "another-header-midway.csv": { read: "9.1 9.2" },
  "header-alone.csv": { read: "", problem: "no row so far; waiting for its first reading" },
  "header-without-line-end.csv": { read: "", problem: incomplete },
  "no-header.csv": {
    read: "",
    problem: `no time column in its header '2026-05-04T03:00:00Z,9.1,on'; ${nameTime}`,
  },
  "no-time-column.csv": {
    read: "",
    problem: `no time column in its header 'when,motor_current_a'; ${nameTime}`,
  },
  "no-known-channel.csv": {
    read: "",
    problem:
      "no known channel in its header 'time,amps,ozon'; write headers like motor_current_a, or map them with columns: { motor_current: … }",
  },
  "columns-nobody-knows.csv": { read: "9.1" },
  "two-columns-for-one-channel.csv": { read: "9.1" },
  "names-every-object-knows.csv": { read: "9.1" },
  "degree-sign-in-latin-1.csv": { read: "9.1", also: { motor_temperature: "45" } },

  // Numbers and statuses
  "decimal-comma.csv": { read: "9.1 9.3", rejected: [`3: ${noNumber("1.009,2")}`] },
  "decimal-comma-in-quotes.csv": { read: "9.1 9.2" },
  "decimal-comma-without-quotes.csv": { read: "9.2", rejected: ["2: the row has 4 columns, the header 3"] },
  "forms-of-numbers.csv": { read: "9.1 0.5 0 7 10 0.15 9.1 0.1" },
  "words-for-numbers.csv": {
    read: "9",
    rejected: ["nine", "inf", "1e999", "0x10", "9.1A", "1_0", "9 1", "--9"].map(
      (cell, i) => `${i + 2}: ${noNumber(cell)}`,
    ),
  },
  "missing-values.csv": { read: "– – – – – – – – –", also: { ozone: "1 1 1 1 1 1 1 1 1" } },
  "forms-of-a-status.csv": {
    read: "0 1 2 3 4 5 6",
    also: { ozone: "1 0 1 0 1 0 2" },
    rejected: ["9: 'ozone': 'open' is not on, off or fault"],
  },
  // 1 inHg is 3.386389 kPa: NIST SP 811 (2008), appendix B.8.
  "american-units.csv": { read: "9.1 9.2", also: { suction_pressure: "-16.932 -16.932" } },

  // Quotes
  "doubled-quotes-in-a-note.csv": { read: "9.1 9.2" },
  "stray-quote.csv": { read: "9.2 9.3", rejected: ["2: a quote is opened and not closed"] },
  "quote-within-a-cell.csv": {
    read: "9.2",
    rejected: ["2: a quote inside a cell that does not begin with one"],
  },
  "quote-never-closed.csv": {
    read: "9.1",
    rejected: ["3: a quote is opened and not closed", `4: ${early(1)}`],
  },

  // Times
  "times-of-every-form.csv": {
    read: "1 2 3 4 5",
    times: ["00.000", "01.000", "02.500", "03.000", "04.000"].map((s) => `2026-05-04T03:00:${s}Z`),
  },
  "dates-day-first.csv": {
    read: "9.1 9.2 9.4",
    times: ["2026-05-04T02:59:50.000Z", "2026-05-04T03:00:00.000Z", "2026-05-04T03:00:03.000Z"],
    rejected: [
      "4: '04/05/2026 22:00:02' is not a time: slashes do not tell day from month; write columns: { time_format: DD/MM/YYYY } or MM/DD/YYYY in the fleet file",
    ],
  },
  "unix-seconds.csv": { read: "9.1 9.2", times: ["2026-05-04T03:00:00.000Z", "2026-05-04T03:00:01.250Z"] },
  "unix-milliseconds.csv": {
    read: "9.1 9.2",
    times: ["2026-05-04T03:00:00.000Z", "2026-05-04T03:00:01.250Z"],
  },
  "times-that-are-none.csv": {
    read: "9",
    rejected: [
      "2: '2026-02-30T03:00:00Z' is not a time: there is no such day",
      "3: '2026-05-04T24:00:00Z' is not a time: the clock has no such time",
      "4: '2026-05-04T03:60:00Z' is not a time: the clock has no such time",
      `5: '4 May 2026 03:00' ${noForm}`,
      `6: '2026-05-04' ${noForm}`,
      `7: 'yesterday' ${noForm}`,
      "8: no time",
    ],
  },
  // IERS Bulletin C 52: a leap second at the end of 2016. It stays before the second that follows.
  "leap-second.csv": {
    read: "1 2 3",
    times: ["2016-12-31T23:59:59.000Z", "2016-12-31T23:59:59.999Z", "2017-01-01T00:00:00.000Z"],
  },
  // 15 U.S.C. 260a: from the second Sunday of March, 2 a.m., to the first Sunday of November, 2 a.m.
  "hour-that-is-missing.csv": {
    read: "1 3",
    times: ["2026-03-08T07:59:59.000Z", "2026-03-08T08:00:00.000Z"],
    rejected: ["3: '2026-03-08 02:30:00' is not a time: clocks in America/Chicago skipped it"],
  },
  "hour-that-repeats.csv": {
    read: "1 2 3 4",
    times: ["06:30:00", "06:59:59", "07:00:00", "08:00:00"].map((time) => `2026-11-01T${time}.000Z`),
  },

  // Order
  "same-row-twice.csv": { read: "9.1 9.2", repeats: 1 },
  "same-row-after-newer.csv": { read: "9.1 9.2 9.3", late: 1 },
  "a-channel-a-row.csv": { read: "9.1 9.1 9.2", also: { ozone: "– 1 –" }, joined: 1 },
  "same-time-other-value.csv": {
    read: "9.1",
    rejected: ["3: same time as an earlier row, other values"],
  },
  "clock-steps-back.csv": { read: "9.5 9.6", late: 1 },

  // What is no log
  "empty.csv": { read: "", problem: "empty so far; waiting for its first line" },
  "comments-alone.csv": { read: "", problem: incomplete },
  "a-web-servers-error.csv": {
    read: "",
    problem: `no time column in its header '<!DOCTYPE html>'; ${nameTime}`,
  },
  "json-lines.csv": {
    read: "",
    problem: `no time column in its header '{"time":"2026-05-04T03:00:00Z","motor_c…'; ${nameTime}`,
  },
  "characters-that-move-the-cursor.csv": {
    read: "9.3",
    rejected: [`2: '␛[2J' ${noForm}`, `3: ${noNumber("\\u{202e}9.2")}`],
  },
  "little-endian-utf-16.csv": { read: "", problem: "it is UTF-16 text; save it as UTF-8 CSV" },
  "big-endian-utf-16.csv": { read: "", problem: "it is UTF-16 text; save it as UTF-8 CSV" },
  "zeros-before-the-header.csv": {
    read: "",
    problem: "it is binary (NUL bytes), not CSV text; give the logger's CSV export",
  },
  "zeros-after-a-power-cut.csv": { read: "9.1 9.2 9.3", rejected: [`4: ${early(1)}`] },

  // Compressed
  "packed.csv.gz": { read: "9.1 9.2" },
  "packed-in-two-members.csv.gz": { read: "9.1 9.2 9.3" },
  "packed-and-cut-off.csv.gz": { read: "9.1", rejected: [`3: ${early(1)}`] },
  "packed-with-zeros-behind.csv.gz": { read: "9.1 9.2" },
  "not-packed-at-all.csv.gz": {
    read: "",
    problem: "it cannot be decompressed (incorrect header check); compress it again",
  },
};

const plain = readFileSync(new URL("odd-logs/plain.csv", import.meta.url));
const third = Buffer.from("2026-05-04T03:00:02Z,9.3,on\n");

/** Logs that are no text, and so are made here. */
const made: Readonly<Record<string, Buffer>> = {
  "degree-sign-in-latin-1.csv": Buffer.from(
    "time,motor_current_a,motor_temperature_c,outside °C\n2026-05-04T03:00:00Z,9.1,45,12\n",
    "latin1",
  ),
  "little-endian-utf-16.csv": Buffer.from(`\ufeff${plain}`, "utf16le"),
  "big-endian-utf-16.csv": Buffer.from(`\ufeff${plain}`, "utf16le").swap16(),
  "zeros-before-the-header.csv": Buffer.concat([Buffer.alloc(8), plain]),
  "zeros-after-a-power-cut.csv": Buffer.concat([plain, Buffer.alloc(8), Buffer.from("\n"), third]),
  "packed.csv.gz": gzipSync(plain),
  "packed-in-two-members.csv.gz": Buffer.concat([gzipSync(plain), gzipSync(third)]),
  "packed-and-cut-off.csv.gz": gzipSync(plain, { level: 0 }).subarray(0, -30),
  "packed-with-zeros-behind.csv.gz": Buffer.concat([gzipSync(plain), Buffer.alloc(20)]),
  "not-packed-at-all.csv.gz": plain,
};

const bytesOf = (name: string): Buffer =>
  made[name] ?? readFileSync(new URL(`odd-logs/${name}`, import.meta.url));

describe("odd logs", () => {
  it("are all in the table, and the table names no other", () => {
    const files = readdirSync(new URL("odd-logs/", import.meta.url)).filter((name) => name.endsWith(".csv"));
    expect(Object.keys(logs).sort()).toEqual([...files, ...Object.keys(made)].sort());
  });

  it.each(Object.entries(logs))("%s", async (name, expected) => {
    expect(await outcomeOf(logFolder(), name, [bytesOf(name)], expected)).toEqual(expected);
  });
});

/** `npm run soak` tries every cut. */
const everyCut = process.env.TARNWATCH_SOAK === undefined ? 4 : 1;

describe("odd logs, under splits into two reads", () => {
  it.each(Object.entries(logs))("%s", async (name, expected) => {
    const bytes = bytesOf(name);
    const folder = logFolder();
    for (let cut = 1 + (name.length % everyCut); cut < bytes.length; cut += everyCut) {
      const parts = [bytes.subarray(0, cut), bytes.subarray(cut)];
      expect(await outcomeOf(folder, name, parts, expected), `cut at ${cut}`).toEqual(expected);
    }
  });
});
