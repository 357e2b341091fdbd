import fc from "fast-check";
import type { ColumnMap } from "../../src/fleet/unit.ts";

/** Digits as loggers print them: few mostly, sometimes more than a double can hold. */
const digits = (most: number) =>
  fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: most }).map((list) => list.join(""));
const sign = fc.constantFrom("", "", "", "-", "+");

const decimal = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(sign, digits(3), digits(2)).map(([s, a, b]) => `${s}${a}.${b}`) },
  { weight: 2, arbitrary: fc.tuple(sign, digits(6)).map(([s, a]) => `${s}${a}`) },
  { weight: 1, arbitrary: fc.tuple(sign, digits(24), digits(24)).map(([s, a, b]) => `${s}${a}.${b}`) },
  { weight: 1, arbitrary: fc.tuple(sign, digits(9)).map(([s, a]) => `${s}000${a}`) },
  { weight: 1, arbitrary: fc.tuple(sign, digits(4)).map(([s, a]) => `${s}.${a}`) },
  { weight: 1, arbitrary: fc.tuple(sign, digits(4)).map(([s, a]) => `${s}${a}.`) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(sign, digits(3), fc.constantFrom("e", "E"), sign, digits(3))
      .map(([s, a, e, es, b]) => `${s}${a}.5${e}${es}${b}`),
  },
);

const oddNumber = fc.constantFrom(
  ...["", " ", "NaN", "nan", "-nan", "NA", "n/a", "null", "-", "--", "-0", "+0", "-0.0", "0", ".", "-.", "+"],
  ...["Infinity", "-Infinity", "1e400", "1e-400", "0x10", "0b1", "0o7", "1_000", "12 A", "--5", "+-5", "5-"],
  ...[
    "9,8",
    "1,234",
    "1.234,5",
    "٣",
    "½",
    "on",
    "fault",
    "4",
    "3.6",
    "3.60",
    "20",
    "21",
    "21.0",
    "22.5",
    "1e1",
  ],
);

const padding = fc.constantFrom("", "", "", "", "", "", " ", "  ", "\t", "\u00a0");
const padded = (cell: fc.Arbitrary<string>) =>
  fc.tuple(padding, cell, padding).map(([before, text, after]) => before + text + after);

const numberCell = padded(fc.oneof({ weight: 8, arbitrary: decimal }, { weight: 1, arbitrary: oddNumber }));

const statusWord = fc.constantFrom(
  ...["on", "off", "ON", "Off", "oN", "1", "0", "fault", "Fault", "FAULT", "true", "False", "1.0", "0.0"],
  ...["ein", "AUS", "an", "oui", "non", "no", "nein", "sí", "storung", "onein", "offen"],
  ...["", "NaN", "2", "perhaps", "o", "of", "offf", "onn", "faul", "faults", "01", "-1", "1.", "+1"],
);
const statusCell = padded(statusWord);

const two = (n: number) => String(n).padStart(2, "0");
const date = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom("2026-05-04", "2024-11-03", "2024-03-10", "2024-02-29") },
  {
    weight: 1,
    arbitrary: fc
      .tuple(
        fc.integer({ min: 0, max: 9999 }),
        fc.integer({ min: 0, max: 13 }),
        fc.integer({ min: 0, max: 32 }),
      )
      .map(([y, m, d]) => `${String(y).padStart(4, "0")}-${two(m)}-${two(d)}`),
  },
);
const clock = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .tuple(fc.constantFrom(0, 1, 2, 3), fc.integer({ min: 0, max: 59 }), fc.integer({ min: 0, max: 59 }))
      .map((parts) => parts.map(two).join(":")),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(
        fc.integer({ min: 0, max: 25 }),
        fc.integer({ min: 0, max: 61 }),
        fc.integer({ min: 0, max: 61 }),
      )
      .map((parts) => parts.map(two).join(":")),
  },
  { weight: 1, arbitrary: fc.constant("23:59:60") },
);
const fraction = fc.oneof(
  { weight: 4, arbitrary: fc.constant("") },
  { weight: 1, arbitrary: fc.tuple(fc.constantFrom(".", ","), digits(9)).map(([point, d]) => point + d) },
  { weight: 1, arbitrary: fc.constantFrom(".", ".5", ".05", ".999999") },
);
const offset = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom("Z", "", "") },
  {
    weight: 2,
    arbitrary: fc
      .tuple(fc.constantFrom("+", "-"), fc.constantFrom(0, 5, 14, 23, 24), fc.constantFrom(0, 30, 45, 60))
      .map(([s, h, m]) => `${s}${two(h)}:${two(m)}`),
  },
  { weight: 1, arbitrary: fc.constantFrom("z", "+05", "+0500", "-05:0", " UTC", "Z0") },
);
const written = fc
  .tuple(date, fc.constantFrom("T", " ", " ", "t", "_"), clock, fraction, offset)
  .map((parts) => parts.join(""));
const unix = fc.oneof(
  fc.integer({ min: 1_700_000_000, max: 1_800_000_000 }).map(String),
  fc.tuple(fc.integer({ min: 1_700_000_000, max: 1_800_000_000 }), digits(8)).map(([s, f]) => `${s}.${f}`),
  fc.integer({ min: 1_700_000_000_000, max: 1_800_000_000_000 }).map(String),
  fc.tuple(sign, digits(16)).map(([s, d]) => s + d),
  fc.constantFrom(
    "-1",
    "+1714791600",
    "1714791600.",
    ".5",
    "-.5",
    "1e9",
    "99999999999",
    "100000000000",
    "-0",
  ),
);
/** A time in any form, among them impossible ones. */
const timeCell = padded(
  fc.oneof(
    { weight: 5, arbitrary: written },
    { weight: 2, arbitrary: unix },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        ...[
          "",
          "time",
          "yesterday",
          "2026-05-04",
          "NaN",
          "24.11.2026 03:10:00",
          "4.5.26 3:10",
          "31.2.2026 03:10",
        ],
        ...["2026/05/04 03:10:00", "04/05/2026 03:10:00", "24.11.2026", "24.11"],
      ),
    },
  ),
);

const ignoredCell = fc.oneof(
  fc.constantFrom(
    "",
    "µ",
    "°C",
    "pond 🦆",
    "#",
    " # note",
    "\u00a0#",
    "\r",
    "\0",
    "e\u0301",
    "\ufeff",
    '"',
    'a"b',
  ),
  fc.string({ maxLength: 6 }).map((text) => text.replaceAll(/[\n,;\t"]/g, "")),
);

type Kind = "time" | "number" | "status" | "ignored";

/** A header and what its columns are; `columns` as a fleet file maps them. */
export interface LogShape {
  readonly header: readonly string[];
  readonly kinds: readonly Kind[];
  readonly columns?: ColumnMap;
}

export const shapes: readonly LogShape[] = [
  {
    header: ["time", "motor_current_a", "discharge_pressure_kpa", "ozone"],
    kinds: ["time", "number", "number", "status"],
  },
  {
    header: [
      "Note",
      "motor_temperature_f",
      "suction_pressure_inhg",
      "time",
      "run_command",
      "gas_pressure_mbar",
    ],
    kinds: ["ignored", "number", "number", "time", "status", "number"],
  },
  { header: ["ozone", "motor_current_ma", "time"], kinds: ["status", "number", "time"] },
  { header: ["time", "motor_current_a", "note °"], kinds: ["time", "number", "ignored"] },
  {
    header: ["Stamp", "Feed", "Vac", "Accel X", "Accel Y", "remark", "ozone"],
    kinds: ["time", "number", "number", "number", "number", "ignored", "status"],
    columns: {
      time: "stamp",
      channels: {
        gas_pressure: [{ column: "Feed", unit: "mA", range: [4, 20], scale: [0, 400] }],
        suction_pressure: [{ column: "Vac", unit: "psi", vacuum: true }],
        vibration: [{ column: "Accel X" }, { column: "Accel Y" }],
      },
    },
  },
];

const cellOf: Readonly<Record<Kind, fc.Arbitrary<string>>> = {
  time: timeCell,
  number: numberCell,
  status: statusCell,
  ignored: ignoredCell,
};

/** A log as some logger might write it, and how the fleet file maps it. */
export interface WrittenLog {
  readonly text: string;
  readonly shape: LogShape;
  readonly timezone: string;
}

function lineOf({ header, kinds }: LogShape, delimiter: string): fc.Arbitrary<string> {
  const cells = fc.tuple(...kinds.map((kind) => cellOf[kind]));
  const row = cells.map((list) => list.join(delimiter));
  // A cell that the quick lane takes everywhere but in one place shows what that place does.
  const plainOf: Readonly<Record<Kind, fc.Arbitrary<string>>> = {
    time: fc
      .tuple(fc.boolean(), fc.integer({ min: 0, max: 59 }))
      // Without an offset: an hour that clocks in Chicago show twice, so that the rows before matter.
      .map(([local, n]) => (local ? `2024-11-03 01:${two(n)}:00` : `2026-05-04T03:00:${two(n)}Z`)),
    number: fc.tuple(digits(2), digits(2)).map(([a, b]) => `${a}.${b}`),
    status: fc.constantFrom("on", "off", "1", "0"),
    ignored: fc.constantFrom("", "well", "µ"),
  };
  const usual = fc.tuple(...kinds.map((kind) => plainOf[kind]));
  const plain = fc
    .tuple(fc.nat(kinds.length - 1), cells, usual)
    .map(([odd, any, list]) => list.map((cell, i) => (i === odd ? any[i] : cell)).join(delimiter));
  return fc.oneof(
    { weight: 8, arbitrary: plain },
    { weight: 3, arbitrary: usual.map((list) => list.join(delimiter)) },
    { weight: 1, arbitrary: usual.map((list) => list.slice(0, -1).join(delimiter)) },
    { weight: 3, arbitrary: row },
    { weight: 1, arbitrary: cells.map((list) => list.slice(0, -1).join(delimiter)) },
    { weight: 1, arbitrary: row.map((text) => text + delimiter) },
    { weight: 1, arbitrary: row.map((text) => `${text}${delimiter}more`) },
    { weight: 1, arbitrary: row.map((text) => `# ${text}`) },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        ...["", "   ", delimiter.repeat(header.length - 1), "# comment", " #", "\t# comment", '# "'],
        ...[header.join(delimiter), header.join(delimiter).toUpperCase(), `time${delimiter}ozone`],
      ),
    },
  );
}

/** Logs of every shape: their lines, line ends and delimiter, the last line ended or not. */
export function writtenLog(mostLines: number): fc.Arbitrary<WrittenLog> {
  return fc
    .record({
      shape: fc.constantFrom(...shapes),
      delimiter: fc.constantFrom(",", ",", ";", "\t"),
      lineEnd: fc.constantFrom("\n", "\r\n"),
      ended: fc.boolean(),
      timezone: fc.constantFrom("UTC", "America/Chicago", "Australia/Lord_Howe"),
    })
    .chain(({ shape, delimiter, lineEnd, ended, timezone }) =>
      fc.array(lineOf(shape, delimiter), { minLength: 1, maxLength: mostLines }).map((lines) => ({
        text: [shape.header.join(delimiter), ...lines].join(lineEnd) + (ended ? lineEnd : ""),
        shape,
        timezone,
      })),
    );
}

/** Small damage to a text, as a bad cable or a full disk does it. */
export const damage = fc.array(
  fc.record({
    at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
    remove: fc.nat(3),
    insert: fc.constantFrom(
      "",
      "",
      "-",
      "+",
      ".",
      ",",
      "e",
      "0",
      "\n",
      "\r",
      "\r\n",
      " ",
      "#",
      '"',
      ":",
      "\0",
      "µ",
    ),
  }),
  { maxLength: 4 },
);

export function damaged(text: string, hurt: typeof damage extends fc.Arbitrary<infer T> ? T : never): string {
  let result = text;
  for (const { at, remove, insert } of hurt) {
    const place = Math.floor(at * result.length);
    result = result.slice(0, place) + insert + result.slice(place + remove);
  }
  return result;
}
