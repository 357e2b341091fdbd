import { widthOf } from "./width.ts";

/** What stands for the screen's own characters on a terminal that has only ASCII; one column for one. */
const plain: Readonly<Record<string, string>> = {
  "■": "#",
  "▲": "^",
  "▼": "v",
  "○": "o",
  "●": "O",
  "▸": ">",
  "‹": "<",
  "›": ">",
  "≈": "~",
  "↑": "/",
  "◇": "%",
  "·": "-",
  "…": "~",
  "–": "-",
  "—": "-",
  "×": "x",
  "°": " ",
  "₃": "3",
  "─": "-",
  "━": "=",
  "├": "|",
  "┤": "|",
  "│": "|",
  "┃": "I",
  "┴": "+",
  "└": "+",
  "▬": "=",
  "▁": "_",
  "▂": "_",
  "▃": ".",
  "▄": "-",
  "▅": "-",
  "▆": "=",
  "▇": "^",
  "“": '"',
  "”": '"',
  "‘": "'",
  "’": "'",
  "≥": ">",
  "≤": "<",
  µ: "u",
  "²": "2",
  "³": "3",
};
const nonAscii = /[^\x20-\x7e]/u;
const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

/** `text` in ASCII alone and just as wide: accents are dropped, what has no likeness becomes `?`. */
export function ascii(text: string): string {
  if (!nonAscii.test(text)) return text;
  let out = "";
  for (const { segment } of graphemes.segment(text)) {
    if (!nonAscii.test(segment)) out += segment;
    else out += plain[segment] ?? likeness(segment);
  }
  return out;
}

function likeness(segment: string): string {
  const columns = widthOf(segment);
  const bare = segment.normalize("NFKD").replace(/\p{M}/gu, "");
  return bare.length === columns && !nonAscii.test(bare) ? bare : "?".repeat(columns);
}
