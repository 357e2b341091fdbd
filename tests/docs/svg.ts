import type { Cell } from "../terminal/pty.ts";
import { dark, dimness, light, type Palette } from "./palette.ts";

/** A cell's columns and rows in the units of the picture: monospace letters of 15 are about 9 wide. */
export const cellWidth = 9;
export const cellHeight = 18;
const fontSize = 15;
const baseline = 14;
const margin = 9;

interface Run {
  readonly column: number;
  columns: number;
  text: string;
  readonly look: string;
}

/**
 * A screen as a picture (SVG 1.1): a rectangle for each run of like backgrounds, a text for each run of like characters,
 * held to its columns whatever font draws it. Its colours follow the reader's light or dark scheme.
 */
export function svgOf(screen: readonly (readonly Cell[])[], title: string): string {
  const columns = screen[0]?.length ?? 0;
  const [width, height] = [columns * cellWidth + 2 * margin, screen.length * cellHeight + 2 * margin];
  const backgrounds: string[] = [];
  const texts: string[] = [];
  for (const [row, cells] of screen.entries()) {
    for (const run of backgroundRuns(cells)) backgrounds.push(rectangle(run, row));
    for (const run of textRuns(cells)) texts.push(textElement(run, row));
  }
  const body = [...backgrounds, ...texts].join("\n");
  const used = new Set([...body.matchAll(/class="([^"]+)"/g)].flatMap(([, names]) => names.split(" ")));
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${width}" height="${height}" viewBox="${-margin} ${-margin} ${width} ${height}">
<title>${escaped(title)}</title>
<desc>A screen of tarnwatch, ${columns} × ${screen.length}, over the invented fleet of its demonstration.</desc>
<style>
text { font: ${fontSize}px "DejaVu Sans Mono", Menlo, Consolas, "Liberation Mono", monospace; }
.strong { font-weight: bold; }
.dim { fill-opacity: ${dimness}; }
${rulesOf(light, used)}
@media (prefers-color-scheme: dark) {
${rulesOf(dark, used)}
}
</style>
<rect class="paper" x="${-margin}" y="${-margin}" width="${width}" height="${height}" rx="6"/>
${body}
</svg>
`;
}

/** Cells side by side of one background, where it is not the screen's own. */
function backgroundRuns(cells: readonly Cell[]): readonly Run[] {
  const runs: Run[] = [];
  for (const [column, cell] of cells.entries()) {
    const look = backgroundOf(cell);
    if (look === "") continue;
    const last = runs.at(-1);
    if (last?.look === look && last.column + last.columns === column) last.columns++;
    else runs.push({ column, columns: 1, text: "", look });
  }
  return runs;
}

/** Characters side by side of one look and one kind, words with the single spaces between them. */
function textRuns(cells: readonly Cell[]): readonly Run[] {
  const runs: Run[] = [];
  let kind = "";
  for (const [column, cell] of cells.entries()) {
    if (cell.text.trim() === "") continue;
    const look = lookOf(cell);
    const itsKind = kindOf(cell.text);
    const last = runs.at(-1);
    const gap = last === undefined ? 0 : column - last.column - last.columns;
    if (last?.look === look && kind === itsKind && gap <= (kind === "letters" ? 1 : 0)) {
      last.text += " ".repeat(gap) + cell.text;
      last.columns += gap + cell.width;
    } else runs.push({ column, columns: cell.width, text: cell.text, look });
    kind = itsKind;
  }
  return runs;
}

/** Characters of one kind come from one font, so that they are equally wide: letters, lines, blocks, Braille dots. */
function kindOf(text: string): string {
  const code = text.codePointAt(0) ?? 0;
  if (code < 0x2100) return "letters";
  return code >= 0x2800 && code < 0x2900 ? "dots" : `block ${code >> 7}`;
}

function backgroundOf({ reverse, ink, paper }: Cell): string {
  const colour = reverse ? ink : paper;
  if (colour !== undefined) return `p${known(colour)}`;
  return reverse ? "p-ink" : "";
}

function lookOf({ reverse, ink, paper, strong, dim }: Cell): string {
  const colour = reverse ? paper : ink;
  const itsOwn = reverse ? "i-paper" : "";
  const names = [colour === undefined ? itsOwn : `i${known(colour)}`, strong && "strong", dim && "dim"];
  return names.filter(Boolean).join(" ");
}

function known(colour: number): number {
  if (colour < light.colours.length) return colour;
  throw new Error(`colour ${colour} is not among the 16 that a picture has; add it to palette.ts`);
}

/** The fills of the classes that are used. */
function rulesOf({ paper, ink, colours }: Palette, used: ReadonlySet<string>): string {
  const fills: readonly (readonly [string, string])[] = [
    ["p-ink", ink],
    ["i-paper", paper],
    ...colours.flatMap((colour, index) => [[`p${index}`, colour] as const, [`i${index}`, colour] as const]),
  ];
  const rules = fills.filter(([name]) => used.has(name)).map(([name, fill]) => `.${name} { fill: ${fill}; }`);
  return [`.paper { fill: ${paper}; }`, `text { fill: ${ink}; }`, ...rules].join("\n");
}

function rectangle({ column, columns, look }: Run, row: number): string {
  const place = `x="${column * cellWidth}" y="${row * cellHeight}"`;
  return `<rect class="${look}" ${place} width="${columns * cellWidth}" height="${cellHeight}"/>`;
}

function textElement({ column, columns, text, look }: Run, row: number): string {
  const place = `x="${column * cellWidth}" y="${row * cellHeight + baseline}"`;
  const held = `textLength="${columns * cellWidth}" lengthAdjust="spacingAndGlyphs"`;
  return `<text${look === "" ? "" : ` class="${look}"`} ${place} ${held}>${escaped(text)}</text>`;
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
