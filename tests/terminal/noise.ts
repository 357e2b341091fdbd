import fc from "fast-check";

/** What a key, a paste, a noisy line or a window does next. */
export type Noise =
  | { readonly typed: string; readonly thenMs: number }
  | { readonly columns: number; readonly rows: number };

/** Somebody who means it: a line typed at a unit, which asks whether it is meant. */
export interface Scene {
  readonly unitsDown: number;
  readonly line: string;
}

/** `read` is a lone `c` after the question could be read; none of the others confirms it. */
export const answers = ["read", "at once", "burst", "pasted", "another key first"] as const;
export type Answer = (typeof answers)[number];

const esc = "\u001b";
/** Every key of the help but those that end or set aside; the bytes are xterm's. */
const keys = [
  ...["[A", "[B", "[C", "[D", "[5~", "[6~", "[H", "[F", ""].map((rest) => esc + rest),
  ...["\r", "\t", "\u007f", "\u000c", "+", "-", ",", ".", "m", "n", "1", "2", "3", "4", "5"],
  ...["/", "o", "p", "y", "w", "c", "u", "?"],
];
const otherCharacters = [...'abdefghijklrstvxzABCDEFGHIJKLMNOPRSTUVWXYZ67890 =_!"#$%&()*:;<>@[]^{|}~éß池'];
/** Pieces of sequences, and what a terminal answers or tells unasked. */
const sequences = [
  ...["", "[", "O", "[1;", "[200", "[<0;3", "[201~", "]0;title", "P", "[[", esc, `${esc}[`].map(
    (rest) => esc + rest,
  ),
  ...["[I", "[O", "[<0;10;5M", "[24;80R", "[?62;4c", "[1;5A", "[Z", "OP", "[15~", "[999z"].map(
    (rest) => esc + rest,
  ),
  ..."\u0000\u0001\u0002\u0008\n\u0007\u000b\u0015\u009b\ufffd",
];
const lines = [
  "shelve all 2h",
  "shelve lost-prime 2h Ann is there",
  "shelve ozone-off 2h",
  "out-of-service all",
  "out-of-service ozone-not-allowed cell ordered",
  "acknowledge site",
  "acknowledge all",
  "begin cleaning",
  "plan now 2h pond drained",
  "done repair",
  "baseline relearn",
  "note all the pond is low",
  "return-to-service all",
  "unshelve all",
];
const asked = lines.filter((text) => !/^(note|unshelve|return|acknowledge all|shelve ozone-off)/.test(text));

const line = fc.constantFrom(...lines);
const thenMs = fc.constantFrom(0, 0, 0, 5, 10, 20);
/** What a terminal in cooked mode would take for a signal or a stop of the flow is not sent. */
const signals = "\u0003\u0004\u0011\u0012\u0013\u001a\u001b\u001c";
const harmless = (text: string): string => [...text].filter((one) => !signals.includes(one)).join("");
/** With `q`, which quits where a paste is taken for keys. */
const garbage = fc.oneof(
  // Of characters that every terminal takes for as wide as the program does: xterm's headless one goes by Unicode 6.
  fc.array(fc.nat({ max: 0x2ff }), { maxLength: 40 }).map((codes) => harmless(String.fromCharCode(...codes))),
  fc.constantFrom("c", "\r", "\rc", "wc", "q", "qQq", "-".repeat(3000)),
  line.map((text) => `w${text}\rc`),
);
/** What may be read together with the paste after it. */
const before = fc.constantFrom("", "", esc, `${esc}${esc}`, `${esc}[1;`, `${esc}O`, `${esc}[A`);
const paste = (text: string): string => `${esc}[200~${text}${esc}[201~`;
const typed = (text: fc.Arbitrary<string>) => fc.record({ typed: text, thenMs });
const size = fc.oneof(
  fc.record({ columns: fc.integer({ min: 60, max: 200 }), rows: fc.integer({ min: 15, max: 60 }) }),
  fc.constantFrom(
    { columns: 80, rows: 24 },
    { columns: 20, rows: 5 },
    { columns: 60, rows: 15 },
    { columns: 1, rows: 1 },
  ),
);

/** One press at random. */
export const noise: fc.Arbitrary<Noise> = fc.oneof(
  { weight: 620, arbitrary: typed(fc.constantFrom(...keys)) },
  { weight: 120, arbitrary: typed(fc.constantFrom(...otherCharacters)) },
  { weight: 60, arbitrary: typed(fc.constantFrom(...sequences)) },
  { weight: 40, arbitrary: typed(fc.tuple(before, garbage).map(([first, text]) => first + paste(text))) },
  {
    weight: 50,
    arbitrary: typed(
      fc.array(fc.constantFrom(...keys), { minLength: 2, maxLength: 6 }).map((pressed) => pressed.join("")),
    ),
  },
  { weight: 30, arbitrary: typed(line) },
  { weight: 30, arbitrary: typed(line.map((text) => `w${text}\rc`)) },
  { weight: 40, arbitrary: size },
);

export const scene: fc.Arbitrary<Scene> = fc.record({
  unitsDown: fc.nat({ max: 4 }),
  line: fc.constantFrom(...asked),
});
