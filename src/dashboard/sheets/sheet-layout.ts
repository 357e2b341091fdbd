import { matches } from "../../terms/text.ts";
import { emptyLine, type Line, line, span, textOf } from "../line.ts";
import { paragraph } from "../section.ts";
import { scrolledTo } from "../viewport.ts";
import type { Sheet, SheetItem } from "./sheet.ts";

/** An item's rows in a list. */
interface SheetPlace {
  readonly unit: string | null;
  /** First row worth showing with it, its first own row and its last. */
  readonly revealFrom: number;
  readonly first: number;
  readonly last: number;
}

export interface SheetLayout {
  readonly rows: readonly Line[];
  readonly places: readonly SheetPlace[];
  /** Items that the filter leaves out. */
  readonly hidden: number;
}

/** A list's rows one under another; only items that fit `filter` by unit, `siteOf` it or what they say. */
export function laidOut(
  sheet: Sheet,
  filter: string,
  siteOf: (unit: string) => string,
  width: number,
): SheetLayout {
  const rows: Line[] = [...sheet.above];
  const places: SheetPlace[] = [];
  let hidden = 0;
  const fits = ({ unit, lines }: SheetItem): boolean =>
    matches(filter, `${unit ?? ""} ${unit === null ? "" : siteOf(unit)} ${lines.map(textOf).join(" ")}`);
  let lastOver: readonly Line[] | undefined;
  for (const { over, heading: own, items } of sheet.groups) {
    const kept = items.filter(fits);
    hidden += items.length - kept.length;
    if (kept.length === 0) continue;
    const heading = over === undefined || over === lastOver ? own : [...over, ...own];
    lastOver = over;
    if (rows.length > 0 && heading.length > 0) rows.push(emptyLine);
    let revealFrom = places.length === 0 ? 0 : rows.length;
    rows.push(...heading);
    for (const { unit, lines } of kept) {
      const first = rows.length;
      rows.push(...lines);
      places.push({ unit, revealFrom: Math.min(revealFrom, first), first, last: rows.length - 1 });
      revealFrom = rows.length;
    }
  }
  if (places.length === 0) {
    if (rows.length > 0) rows.push(emptyLine);
    rows.push(
      ...(hidden > 0 ? [line(`   nothing here fits '${filter}'`)] : paragraph("   ", sheet.none, width)),
    );
  }
  return { rows, places, hidden };
}

/** The first row to show so that the chosen item is seen. */
export function topFor({ rows, places }: SheetLayout, chosen: number, top: number, height: number): number {
  const place = places[chosen];
  if (place === undefined) return 0;
  return scrolledTo(top, height, place.revealFrom, place.last, rows.length);
}

/** Rows `top` to `top + height` with the chosen item marked. */
export function rowsSeen(
  { rows, places }: SheetLayout,
  chosen: number,
  top: number,
  height: number,
): readonly Line[] {
  const at = places[chosen]?.first;
  return rows.slice(top, top + height).map((content, row) => (top + row === at ? marked(content) : content));
}

function marked([first = span(" "), ...rest]: Line): Line {
  return [span("▸", "strong"), { text: first.text.slice(1), style: first.style }, ...rest];
}
