import type { FleetView, UnitView } from "../collector/fleet-view.ts";
import { beside, emptyLine, type Line, line, span } from "./line.ts";
import { needingLater, needingNobody, needingNow } from "./needing.ts";
import { isPartlyJudged, partlyJudgedLines, partlyJudgedMark } from "./partly-judged.ts";
import { quietColumns, quietHeading, quietRow } from "./quiet-table.ts";
import { paragraph } from "./section.ts";
import { isUnheard, needsNothing, type RankedUnit, worstFirst } from "./urgency.ts";
import { catchingUpMark } from "./words.ts";

/** One row of the fleet: a line, or several side by side on a wide screen. Made where it is seen: a fleet has a thousand. */
export interface FleetRow {
  readonly cells: () => readonly Line[];
  readonly cellWidth: number;
}

/** A unit's place in the rows. */
export interface FleetItem {
  readonly unit: string;
  readonly urgent: boolean;
  /** First row worth showing with it, its first own row and its last. */
  readonly revealFrom: number;
  readonly first: number;
  readonly last: number;
  readonly cell: number;
}

/** The fleet, worst first, as rows and the places of the units in them. */
export interface FleetLayout {
  readonly rows: readonly FleetRow[];
  readonly items: readonly FleetItem[];
  /** Quiet units stand in so many columns. */
  readonly columns: number;
  /** The rows that name the quiet table's columns: they stay in sight while the table scrolls. */
  readonly heading: { readonly first: number; readonly rows: number };
}

const gap = 3;
/** So many of what units lack are told over the quiet ones; the data quality tells all. */
const mostLacks = 3;
/** Longer rows tire the eye: what belongs together would stand at the two ends of a wide screen. */
const widestText = 120;

/** Lays the whole fleet out for a screen `width` columns wide. */
export function fleetLayout(view: FleetView, width: number): FleetLayout {
  const rows: FleetRow[] = [];
  const items: FleetItem[] = [];
  const ranked = worstFirst(view);
  for (const notice of view.notices) rows.push(single(line(`  note: ${notice}`), width));
  let previous: RankedUnit["urgency"] | null = null;
  for (const { unit, urgency } of ranked) {
    if (needsNothing(urgency)) break;
    if (previous !== null && (previous === "now" || previous !== urgency))
      rows.push(single(emptyLine, width));
    const first = rows.length;
    rows.push(
      ...linesOf(unit, urgency, view, Math.min(width, widestText)).map((content) => single(content, width)),
    );
    const revealFrom = items.length === 0 ? 0 : first;
    items.push({
      unit: unit.id,
      urgent: urgency === "now",
      revealFrom,
      first,
      last: rows.length - 1,
      cell: 0,
    });
    previous = urgency;
  }
  const quiet = ranked.filter((each) => needsNothing(each.urgency)).map((each) => each.unit);
  const columns = Math.max(1, Math.min(Math.floor((width + gap) / (80 + gap)), quiet.length));
  const heading = addQuiet(quiet, view, width, columns, rows, items);
  return { rows, items, columns, heading };
}

function linesOf(unit: UnitView, urgency: RankedUnit["urgency"], view: FleetView, width: number) {
  if (urgency === "now") return needingNow(unit, view, width);
  if (urgency === "soon" || urgency === "next visit") return needingLater(unit, view, width);
  return needingNobody(unit, view, width);
}

function addQuiet(
  quiet: readonly UnitView[],
  view: FleetView,
  width: number,
  columns: number,
  rows: FleetRow[],
  items: FleetItem[],
): FleetLayout["heading"] {
  if (quiet.length === 0) return { first: rows.length, rows: 0 };
  const cellWidth = Math.floor((width - gap * (columns - 1)) / columns);
  const table = quietColumns(quiet, view.display, cellWidth);
  if (rows.length > 0) rows.push(single(emptyLine, width));
  rows.push(...lackRows(view, width));
  const first = rows.length;
  const [names, units] = quietHeading(table, titleOf(quiet));
  const inHeading = columns === 1 || quiet.length <= 1 ? 1 : columns;
  for (const content of [names, units]) {
    if (content.some((piece) => piece.text.trim() !== ""))
      rows.push({ cells: () => Array.from({ length: inHeading }, () => content), cellWidth });
  }
  const heading = { first, rows: rows.length - first };
  for (let start = 0; start < quiet.length; start += columns) {
    const inRow = quiet.slice(start, start + columns);
    const at = rows.length;
    rows.push({
      cells: () => inRow.map((unit) => quietRow(unit, table, view.clockMs, view.timezone)),
      cellWidth,
    });
    const revealFrom = items.length === 0 ? 0 : at - heading.rows;
    for (const [cell, unit] of inRow.entries())
      items.push({ unit: unit.id, urgent: false, revealFrom, first: at, last: at, cell });
  }
  return heading;
}

/** Short, since it stands over the narrow columns of id and state; the mark is explained in the head. */
function titleOf(units: readonly UnitView[]): string {
  const behind = units.filter((unit) => unit.catchingUp).length;
  const partly = units.filter(isPartlyJudged).length;
  const unheard = units.filter(isUnheard).length;
  const quiet = units.length - behind - partly - unheard;
  if (behind === units.length) return `${behind} catching up`;
  if (unheard === units.length) return `${unheard} not read yet`;
  const others = [
    ...(partly > 0 ? [`${partlyJudgedMark} ${partly}`] : []),
    ...(unheard > 0 ? [`${unheard} not read`] : []),
    ...(behind > 0 ? [`${catchingUpMark} ${behind}`] : []),
  ];
  return [`${quiet} quiet`, ...others].join(", ");
}

/** What cannot be judged at which units, and what they lack for it. */
function lackRows(view: FleetView, width: number): readonly FleetRow[] {
  const all = partlyJudgedLines(view.units);
  const more = all.length > mostLacks ? ["at more units for other reasons: see the data quality"] : [];
  const lines = [...all.slice(0, mostLacks), ...more];
  return lines.flatMap((text) =>
    paragraph(` ${partlyJudgedMark} `, text, Math.min(width, widestText)).map((each) => single(each, width)),
  );
}

function single(content: Line, width: number): FleetRow {
  return { cells: () => [content], cellWidth: width };
}

/** How many rows of heading lie over the list when row `top` stands first. */
export function headingOver(layout: FleetLayout, top: number): number {
  return top > layout.heading.first ? layout.heading.rows : 0;
}

/** Rows `top` to `top + height` as drawn, with `selected` marked. */
export function visibleRows(
  layout: FleetLayout,
  top: number,
  height: number,
  selected: FleetItem | undefined,
): readonly Line[] {
  const over = headingOver(layout, top);
  return layout.rows.slice(top, top + height).map((listed, index) => {
    const row = index < over ? (layout.rows[layout.heading.first + index] ?? listed) : listed;
    const chosen = selected?.first === top + index ? selected.cell : -1;
    return beside(
      row.cells().map((content, cell) => ({
        content: cell === chosen ? marked(content) : content,
        width: row.cellWidth,
      })),
      gap,
    );
  });
}

function marked(content: Line): Line {
  return content.map((piece, index) => {
    if (index === 0) return span("▸", "strong");
    return index === 3 ? { text: piece.text, style: "selected" as const } : piece;
  });
}
