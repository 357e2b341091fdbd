import type { Line } from "../line.ts";

/** What stands for a mark where a screen is read out; a state's mark goes, since its word follows. */
const words: readonly (readonly [RegExp, string])[] = [
  [/▸/g, "chosen: "],
  [/■\s*(high\s+)?/g, "high "],
  [/▲\s*(medium\s+)?/g, "medium "],
  [/▼\s*(low\s+)?/g, "low "],
  [/○\s*(prompt\s+)?/g, "prompt "],
  [/ ! /g, " not to be trusted: "],
  [
    /[≈↑◇–?·…] (?=(running|priming|stopped|under service|laid up|no readings|not read yet|planned stop))/g,
    "",
  ],
  // Scales, charts, rules and small trends.
  [/[─━├┤┃●‹›┴▁▂▃▄▅▆▇]+/g, " "],
  [/·{2,}/g, " "],
  [/ · /g, ", "],
  [/(^|\s)·(?=\s|$)/g, "$1"],
  [/(^|\s)–(?=\s|$)/g, "$1none"],
];

/** A row of a chart, which nothing that is read out can stand for: the readings and alarms above it tell. */
const chart = /[\u2800-\u28ff│└▬]/;

/** A row as words alone, to be read out; empty where it holds none. */
export function linearText(content: Line): string {
  let text = content.map(spoken).join("");
  if (chart.test(text)) return "";
  for (const [mark, word] of words) text = text.replace(mark, word);
  return text
    .trim()
    .replace(/\s{2,}/g, ", ")
    .replace(/(, ){2,}/g, ", ")
    .replace(/([:;]),/g, "$1")
    .replace(/^[,\s]+/, "")
    .replace(/[,\s]+$/, "");
}

/** What is chosen among several is in brackets, which nobody hears. */
function spoken({ text, style }: Line[number]): string {
  return style === "selected" && /^\[.*\]$/.test(text) ? ` chosen ${text.slice(1, -1)} ` : text;
}
