import type { FleetView } from "../../collector/fleet-view.ts";
import { footLines, keysOfReplay } from "../foot.ts";
import { headLines, rule } from "../head.ts";
import { type KeyHint, keyRow, viewsHint } from "../key-row.ts";
import { emptyLine, ends, type Line, span } from "../line.ts";
import type { Sheet } from "./sheet.ts";
import { rowsSeen, type SheetLayout, topFor } from "./sheet-layout.ts";
import type { SheetPlace } from "./sheet-place.ts";

/** A list's screen from top to bottom, exactly `height` rows. */
export function sheetScreen(
  sheet: Sheet,
  layout: SheetLayout,
  place: SheetPlace,
  filter: string,
  view: FleetView,
  silentMs: number,
  width: number,
  height: number,
): readonly Line[] {
  const kept = filter === "" ? "" : ` only '${filter}' ·`;
  const head = [
    ...headLines(view, silentMs, width, inSight(place.kind, filter)),
    ends([span(` ${sheet.title}`, "strong")], [span(`${kept} ${sheet.asOf} `)], width),
    rule(width),
  ];
  const room = Math.max(1, height - head.length - 2);
  const top = topFor(layout, place.chosen, place.top, room);
  const seen = rowsSeen(layout, place.chosen, top, room);
  const above = layout.places.filter(({ last }) => last < top).length;
  const below = layout.places.filter(({ first }) => first >= top + room).length;
  const sight = [
    layout.hidden > 0 ? `${layout.hidden} filtered out` : "",
    above > 0 ? `${above} above` : "",
    below > 0 ? `${below} below` : "",
  ];
  return [
    ...head,
    ...seen,
    ...Array.from({ length: room - seen.length }, () => emptyLine),
    ...footLines(view, sight.filter((part) => part !== "").join(" · "), keysOf(place, view, width), width),
  ];
}

/** Rows of a list that are seen at once. */
export function sheetHeight(
  kind: SheetPlace["kind"],
  filter: string,
  view: FleetView,
  silentMs: number,
  height: number,
): number {
  return Math.max(1, height - headLines(view, silentMs, 80, inSight(kind, filter)).length - 4);
}

/** The standing alarms lead with what is needed now. */
function inSight(kind: SheetPlace["kind"], filter: string): "the fleet" | null {
  return kind === "standing" && filter === "" ? "the fleet" : null;
}

function keysOf({ kind }: SheetPlace, view: FleetView, width: number): string {
  const hints: readonly KeyHint[] = [
    ["Esc back"],
    ["arrows choose", 6],
    ["Enter unit", 3],
    ...(kind === "history"
      ? ([
          ["+ - length", 1],
          ["left, right time", 2],
        ] as const)
      : []),
    ["/ filter", 2],
    [viewsHint(width), 2],
    ...(view.replay === undefined ? [] : ([[keysOfReplay, 5]] as const)),
    ["? keys"],
    ["q quits"],
  ];
  return keyRow(hints, width);
}
