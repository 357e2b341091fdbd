import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createDecoder, type DecodeState, newDecodeState } from "../../src/acquire/decode.ts";
import { longestRecord } from "../../src/acquire/records.ts";
import { zoneReader } from "../../src/acquire/zone.ts";
import type { ColumnMap } from "../../src/fleet/unit.ts";
import { channels } from "../../src/terms/channels.ts";
import { throughText } from "../support/through-text.ts";
import { header, rowsOf, unitWith } from "./workbench.ts";

interface Decoded {
  readonly rows: (Record<string, number | string> & { time: string; line: number })[];
  readonly rejected: { line: number; why: string }[];
  readonly state: DecodeState;
}

/** Decodes pieces as a file that grows: what a call leaves is given again with the next piece. */
function decodePieces(pieces: readonly Buffer[], columns?: ColumnMap, timezone = "UTC"): Decoded {
  const { unit } = unitWith("/nowhere", { columns });
  const decoder = createDecoder(unit, timezone, zoneReader(timezone));
  const rows: Decoded["rows"] = [];
  const rejected: Decoded["rejected"] = [];
  let state = newDecodeState();
  const space = decoder.newSpace();
  let rest = Buffer.alloc(0);
  for (const [i, piece] of [...pieces, Buffer.alloc(0)].entries()) {
    rest = Buffer.concat([rest, piece]);
    const block = decoder.decode(state, rest, i === pieces.length, space);
    for (let row = 0; row < block.rows; row++) {
      const reading: Decoded["rows"][number] = {
        time: new Date(block.timeMs[row] ?? Number.NaN).toISOString(),
        line: block.line[row] ?? Number.NaN,
      };
      for (const [i, channel] of channels.entries()) {
        const value = block.columns[i]?.[row] ?? Number.NaN;
        if (!Number.isNaN(value)) reading[channel] = Number(value.toFixed(9));
      }
      rows.push(reading);
    }
    rejected.push(...block.rejected.map(({ line, why }) => ({ line, why })));
    rest = rest.subarray(block.consumed);
    state = throughText(block.state);
  }
  return { rows, rejected, state };
}

const decode = (text: string | Buffer, columns?: ColumnMap, timezone?: string) =>
  decodePieces([Buffer.from(text as string)], columns, timezone);

const at = "2026-05-04T03:00:00Z";
const time = "2026-05-04T03:00:00.000Z";

describe("dialects", () => {
  it.each([
    ["a comma", `time,motor_current_a,ozone\n${at},9.8,on\n`],
    ["a semicolon and a decimal comma", `time;motor_current_a;ozone\n${at};9,8;on\n`],
    ["a semicolon and a decimal point", `time;motor_current_a;ozone\n${at};9.8;on\n`],
    ["a tab", `time\tmotor_current_a\tozone\n${at}\t9.8\ton\n`],
    ["a byte-order mark", `\uFEFFtime,motor_current_a,ozone\n${at},9.8,on\n`],
    ["CRLF", `time,motor_current_a,ozone\r\n${at},9.8,on\r\n`],
    ["quoting", `"time","motor_current_a","ozone"\n"${at}","9.8","on"\n`],
    ["a quoted decimal comma", `time,motor_current_a,ozone\n${at},"9,8",on\n`],
    ["headers in another case and order", `OZONE,Motor_Current_A,TimeStamp\nON,9.8,${at}\n`],
    ["spaces about headers and cells", ` time , motor_current_a , ozone \n ${at} , 9.8 , on \n`],
    [
      "blank lines and comments",
      `# pump 1\n\ntime,motor_current_a,ozone\n# it's "quoted\n\n   \n${at},9.8,on\n`,
    ],
    ["a spreadsheet's sep line", `sep=;\ntime;motor_current_a;ozone\n${at};9,8;on\n`],
    ["no line end at the end", `time,motor_current_a,ozone\n${at},9.8,on`],
    ["a delimiter at the end of rows", `time,motor_current_a,ozone\n${at},9.8,on,\n`],
    ["rows of empty cells", `time,motor_current_a,ozone\n,,\n${at},9.8,on\n,,\n`],
  ])("recognises %s", (_, text) => {
    const { rows, rejected } = decode(text);
    expect(rejected).toEqual([]);
    expect(rows).toEqual([expect.objectContaining({ time, motor_current: 9.8, ozone: 1 })]);
  });

  it("skips repeated headers, and takes a header that differs as the columns from there on", () => {
    const { rows, rejected } = decode(
      `time,motor_current_a\n${at},9.8\nTIME,Motor_Current_A\n2026-05-04T03:00:01Z,9.9\ntime,ozone,motor_current_ma\n2026-05-04T03:00:02Z,on,9700\n`,
    );
    expect(rejected).toEqual([]);
    expect(rows.map((row) => [row.line, row.motor_current, row.ozone])).toEqual([
      [2, 9.8, undefined],
      [4, 9.9, undefined],
      [6, 9.7, 1],
    ]);
  });

  it("takes a line for a comment also where its first column is one that nobody reads", () => {
    const { rows, rejected } = decode(
      `note,time,motor_current_a\n# off for now,${at},1\n\t #,${at},2\nwell,${at},9.8\n`,
    );
    expect(rejected).toEqual([]);
    expect(rows).toEqual([{ time, line: 4, motor_current: 9.8 }]);
  });

  const named: ColumnMap = { time: "Uhrzeit", date: "Datum", channels: {} };
  it.each<[string, string, ColumnMap | undefined]>([
    ["found by their headers", `Date,Time,motor_current_a\n2026-05-04,03:00:00,9.8\n`, undefined],
    ["the clock first", `time,date,motor_current_a\n3:00,2026-05-04,9.8\n`, undefined],
    ["with dots", `Datum;Uhrzeit;motor_current_a\n04.05.2026;03:00:00;9,8\n`, named],
    ["with an offset", `Datum;Uhrzeit;motor_current_a\n2026-05-04;05:00:00+02:00;9,8\n`, named],
    [
      "of 12 hours",
      `Datum,Uhrzeit,motor_current_a\n05/04/2026,3:00:00 AM,9.8\n`,
      { ...named, timeFormat: "MM/DD/YYYY" },
    ],
    ["in one cell after all", `date,time,motor_current_a\n1,${at},9.8\n`, undefined],
  ])("reads a date and a time of the day in two columns: %s", (_, text, columns) => {
    expect(decode(text, columns)).toMatchObject({ rows: [{ time, motor_current: 9.8 }], rejected: [] });
  });

  it("says what a time of the day lacks", () => {
    const { rejected } = decode(`time,motor_current_a\n03:00:00,9.8\n`);
    expect(rejected[0]?.why).toMatch(/^'03:00:00' is a time of the day without its date; .*date: …/);
  });

  it("reads a header in Latin-1, as loggers with a degree sign write it", () => {
    const columns: ColumnMap = { channels: { motor_temperature: [{ column: "Temp °C" }] } };
    const { rows } = decode(Buffer.from(`time;Temp °C\n${at};45,5\n`, "latin1"), columns);
    expect(rows).toEqual([{ time, line: 2, motor_temperature: 45.5 }]);
  });
});

describe("logs that cannot be read", () => {
  it.each([
    ["no time column", "hour,motor_current_a\n", "no time column in its header 'hour,motor_current_a'"],
    ["no known channel", "time,amps\n", "no known channel in its header 'time,amps'"],
    ["a binary file", Buffer.from([0x50, 0x4b, 3, 4, 0, 0, 0, 0, 0x0a, 1]), "it is binary (NUL bytes)"],
    [
      "UTF-16 with a mark",
      Buffer.from(`\uFEFF${header}\n`, "utf16le"),
      "it is UTF-16 text; save it as UTF-8 CSV",
    ],
    ["UTF-16 without a mark", Buffer.from(`${header}\n`, "utf16le"), "it is UTF-16 text"],
    [
      "1,001 columns",
      `time,motor_current_a${",x".repeat(999)}\n`,
      "the header has 1001 columns; at most 1000 are read",
    ],
    [
      "a header without end",
      "x".repeat(longestRecord + 1),
      "its header cannot be read: no end of the row within 1 MiB",
    ],
  ])("%s: one line says why, and no row is made up", (_, text, why) => {
    const { rows, rejected, state } = decode(text);
    expect(state.problem).toContain(why);
    expect(state.problem).not.toContain("\n");
    expect(rows).toEqual([]);
    expect(rejected).toEqual([]);
  });

  it("waits for the header of an empty log", () => {
    expect(decode("").state).toEqual(newDecodeState());
  });
});

describe("RFC 4180", () => {
  // The rules of RFC 4180 (2005), section 2, numbers 4 to 7; the records are composed here. The second
  // column is the one that the channel takes, so each shows whether the cells were parted rightly.
  const head = "note,motor_current_a,time\n";
  it.each([
    ["a comma in quotes", `"b,c",9.8,${at}\r\n`, 2],
    ["a doubled quote", `"a""b",9.8,${at}\r\n`, 2],
    ["a line end in quotes", `"x\r\ny",9.8,${at}\r\n`, 2],
    ["an empty cell", `,9.8,${at}\r\n`, 2],
    ["a quoted empty cell", `"",9.8,${at}\r\n`, 2],
  ])("reads %s", (_, record, line) => {
    expect(decode(head + record)).toMatchObject({ rows: [{ time, line, motor_current: 9.8 }], rejected: [] });
  });

  it("counts lines on through cells that span several", () => {
    const { rejected } = decode(`${head}"x\ny\nz",9.8,${at}\n"a",oops,${at}\n`);
    expect(rejected).toEqual([{ line: 5, why: "'motor_current_a': 'oops' is not a number" }]);
  });

  it("rejects a quote inside a cell that does not begin with one, and that row alone", () => {
    const { rows, rejected } = decode(`${head}a"b,9.8,${at}\n"c",9.7,${at}\n`);
    expect(rows.map((row) => row.motor_current)).toEqual([9.7]);
    expect(rejected).toEqual([{ line: 2, why: "a quote inside a cell that does not begin with one" }]);
  });

  it("rejects a row whose closing quote is followed by text, and that row alone", () => {
    const { rows, rejected } = decode(`${head}"a"b,9.8,${at}\n"c",9.7,${at}\n`);
    expect(rows.map((row) => row.motor_current)).toEqual([9.7]);
    expect(rejected).toEqual([{ line: 2, why: "its quotes do not fit together" }]);
  });

  it("loses one row to a stray quote, not the rest of the log", () => {
    const { rows, rejected } = decode(`${header}\n${at},"9.8,86,on\n${rowsOf(1, 50)}`);
    expect(rejected).toEqual([{ line: 2, why: "a quote is opened and not closed" }]);
    expect(rows).toHaveLength(49);
  });

  it("gives up an open quote after 100 lines", () => {
    const { rows, rejected } = decode(`${header}\n${at},"9.8,86,on\n${"noise\n".repeat(150)}${rowsOf(1, 3)}`);
    expect(rejected[0]).toEqual({ line: 2, why: "a quote is opened and not closed" });
    expect(rows.map((row) => row.motor_current)).toEqual([1, 2]);
  });
});

describe("rows that cannot be read", () => {
  it.each([
    ["an impossible day", "2026-02-30T00:00:00Z,9.8,86,on", "there is no such day"],
    ["no time", ",9.8,86,on", "no time"],
    ["text for a number", `${at},high,86,on`, "'motor_current_a': 'high' is not a number"],
    ["an unknown ozone state", `${at},9.8,86,perhaps`, "'ozone': 'perhaps' is not on, off or fault"],
    ["a row that was cut off", `${at},9.8`, "the row ends early: 2 of 4 columns"],
    ["more cells than the header", `${at},9,8,86,on`, "the row has 5 columns, the header 4"],
    ["control characters", `${at},\u001b[2J,86,on`, "'␛[2J' is not a number"],
  ])("%s: rejected with its line and reason, the rows about it stay", (_, row, why) => {
    const { rows, rejected } = decode(`${header}\n${rowsOf(1, 2)}${row}\n${rowsOf(2, 3)}`);
    expect(rejected).toEqual([{ line: 3, why: expect.stringContaining(why) }]);
    expect(rows.map((r) => r.motor_current)).toEqual([1, 2]);
  });

  it("rejects a local time that the clocks skipped", () => {
    const { rejected } = decode("time,ozone\n2024-03-10 02:30:00,on\n", undefined, "America/New_York");
    expect(rejected[0]?.why).toContain("clocks in America/New_York skipped it");
  });

  it("leaves nothing of a rejected row behind in one of other columns", () => {
    const { rows } = decode(
      `time,motor_current_a,ozone\n${at},5,perhaps\ntime,discharge_pressure_kpa\n2026-05-04T03:00:01Z,80\n`,
    );
    expect(rows).toEqual([{ time: "2026-05-04T03:00:01.000Z", line: 4, discharge_pressure: 80 }]);
  });

  it("rejects a line over 1 MiB and goes on at the next, whether it had an end or not when it was read", () => {
    const long = Buffer.from(`${header}\n${"9".repeat(longestRecord + 10)}`);
    const after = Buffer.from(`99\n${rowsOf(1, 3)}`);
    const expected = [{ line: 2, why: "no end of the row within 1 MiB" }];
    for (const pieces of [[long, after], [Buffer.concat([long, after])]]) {
      const { rows, rejected } = decodePieces(pieces);
      expect(rejected).toEqual(expected);
      expect(rows.map((row) => [row.line, row.motor_current])).toEqual([
        [3, 1],
        [4, 2],
      ]);
    }
  });
});

describe("units of columns", () => {
  it.each([
    // Conversions by NIST SP 811 (2008), appendix B.8.
    ["motor_current_ma", "9800", "motor_current", 9.8],
    ["motor_temperature_f", "130", "motor_temperature", 54.444444444],
    ["discharge_pressure_psi", "12", "discharge_pressure", 82.737087518],
    ["suction_pressure_bar", "-0.2", "suction_pressure", -20],
    ["suction_pressure_inhg", "6", "suction_pressure", -20.318331842],
    ["suction_pressure_inhg", "-6", "suction_pressure", -20.318331842],
    ["gas_pressure_mbar", "250", "gas_pressure", 25],
    ["gas_pressure_inh2o", "10", "gas_pressure", 2.490889083],
    ["flow_gpm", "30", "flow", 113.56235352],
    ["gas_flow_lpm", "2.5", "gas_flow", 2.5],
    ["water_temperature_c", "18", "water_temperature", 18],
    ["ozone_in_air_ppm", "0.05", "ozone_in_air", 0.05],
    ["voltage", "117", "voltage", 117],
  ])("%s: %s is %s %d", (name, cell, channel, value) => {
    expect(decode(`time,${name}\n${at},${cell}\n`).rows[0]?.[channel]).toBe(value);
  });

  it.each([
    // NAMUR NE 43: 3.8 to 20.5 mA carry a measurement, % = (I − 4) / 16 · 100; a failure is at 3.6 mA or
    // below, 21 mA or above (whether the limits themselves belong to it is from memory). A failure low is kept as −∞, high as +∞.
    [4, 0],
    [12, 50],
    [20, 100],
    [3.8, -1.25],
    [20.5, 103.125],
    [3.6, Number.NEGATIVE_INFINITY],
    [0, Number.NEGATIVE_INFINITY],
    [21, Number.POSITIVE_INFINITY],
    [22.5, Number.POSITIVE_INFINITY],
  ])("a 4–20 mA loop at %d mA stands for %s %%", (current, percent) => {
    const columns: ColumnMap = {
      channels: { gas_pressure: [{ column: "Feed", unit: "mA", range: [4, 20], scale: [0, 100] }] },
    };
    expect(decode(`time,Feed\n${at},${current}\n`, columns)).toMatchObject({ rejected: [] });
    expect(decode(`time,Feed\n${at},${current}\n`, columns).rows[0]?.gas_pressure).toBe(percent);
  });

  it("counts a mapped vacuum negative, and takes several columns for one channel", () => {
    const columns: ColumnMap = {
      time: "when",
      channels: {
        suction_pressure: [{ column: "Vac", unit: "psi", vacuum: true }],
        vibration: [{ column: "Accel X" }, { column: "Accel Y" }],
      },
    };
    const { unit } = unitWith("/nowhere", { columns });
    const block = createDecoder(unit, "UTC", zoneReader("UTC")).decode(
      newDecodeState(),
      Buffer.from(`when,vac,Accel Y,Accel X,motor_current_a\n${at},3,0.2,0.1,9.8\n`),
      true,
    );
    expect(block.columns[channels.indexOf("suction_pressure")]?.[0]).toBeCloseTo(-20.684, 3);
    expect(block.columns[channels.indexOf("vibration")]?.[0]).toBe(0.1);
    expect(block.columns[channels.length]?.[0]).toBe(0.2);
    expect(block.columns[channels.indexOf("motor_current")]?.[0]).toBe(9.8);
  });

  it("reads missing values as missing", () => {
    expect(decode(`${header}\n${at},,NaN,\n`)).toMatchObject({ rows: [{ time, line: 2 }], rejected: [] });
  });
});

describe("any split of the bytes", () => {
  const line = fc.oneof(
    {
      weight: 6,
      arbitrary: fc
        .integer({ min: 0, max: 59 })
        .map((s) => `2026-05-04T03:00:${String(s).padStart(2, "0")}Z,${s},86.4,on`),
    },
    {
      weight: 1,
      arbitrary: fc
        .integer({ min: 0, max: 59 })
        .map((s) => `2024-11-03 01:${String(s).padStart(2, "0")}:00,1,2,off`),
    },
    {
      weight: 3,
      arbitrary: fc
        .array(fc.constantFrom('"', ",", "\n", "\r\n", at, "9.8", "on", "#", " ", "µ", "°", "\0", '""'), {
          maxLength: 12,
        })
        .map((parts) => parts.join("")),
    },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        header,
        header.toUpperCase(),
        "time,ozone,flow_lpm",
        '# comment "',
        "",
        `${at},"9.8,86,on`,
        `${at},"9,8","86",on`,
      ),
    },
  );
  const log = fc
    .record({
      mark: fc.constantFrom("", "\uFEFF", "# made by a logger\r\n", "\n"),
      lines: fc.array(line, { maxLength: 30 }),
      end: fc.constantFrom("\n", "\r\n"),
      last: fc.boolean(),
    })
    .map(({ mark, lines, end, last }) =>
      Buffer.from(`${mark}${[header, ...lines].join(end)}${last ? end : ""}`),
    );

  it("gives the same rows, lines, counts and reasons", () => {
    fc.assert(
      fc.property(
        log,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 }),
        (bytes, cuts) => {
          const places = [
            0,
            ...cuts.map((cut) => Math.floor(cut * bytes.length)).sort((a, b) => a - b),
            bytes.length,
          ];
          const pieces = places.slice(1).map((to, i) => bytes.subarray(places[i], to));
          expect(decodePieces(pieces, undefined, "America/New_York")).toEqual(
            decodePieces([bytes], undefined, "America/New_York"),
          );
        },
      ),
      { numRuns: 1000 },
    );
  });

  it("gives the same byte by byte", () => {
    const bytes = Buffer.from(
      `\uFEFF${header}\r\n${at},"9,8",86,on\r\n"${at}","9.7\n",86,"on"\r\n${at},µ,86,on\r\n${rowsOf(1, 4)}`,
    );
    expect(decodePieces([...bytes].map((b) => Buffer.from([b])))).toEqual(decodePieces([bytes]));
  });
});
