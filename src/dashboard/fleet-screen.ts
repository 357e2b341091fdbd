import type { FleetView } from "../collector/fleet-view.ts";
import { type FleetItem, type FleetLayout, headingOver, visibleRows } from "./fleet-layout.ts";
import { footLines, keysOfReplay } from "./foot.ts";
import { countLine, headLines, rule } from "./head.ts";
import { type KeyHint, keyRow, viewKeys, viewsHint } from "./key-row.ts";
import { emptyLine, type Line, line } from "./line.ts";
import { chosenIndex } from "./navigation.ts";
import { roundLine } from "./round/round-layout.ts";
import type { Round } from "./round/use-round.ts";
import { scrolledTo } from "./viewport.ts";
import { priorityMark } from "./words.ts";

/** The fleet's screen from top to bottom, exactly `height` rows, and the row at which its list stands. */
export function fleetScreen(
  view: FleetView,
  layout: FleetLayout,
  round: Pick<Round, "order" | "filter">,
  unit: string | null,
  top: number,
  silentMs: number,
  width: number,
  height: number,
): readonly Line[] {
  const { order, filter } = round;
  const chosenRound = roundLine(order, filter, layout.items.length, view.units.length);
  const head = [
    ...headLines(view, silentMs, width, "the fleet"),
    countLine(view),
    ...(chosenRound === null ? [] : [chosenRound]),
    rule(width),
  ];
  const room = listHeight(head.length, height);
  const item = layout.items[chosenIndex(layout.items, unit)];
  const first =
    item === undefined ? 0 : scrolledTo(top, room, item.revealFrom, item.last, layout.rows.length);
  const list: Line[] = [...visibleRows(layout, first, room, item)];
  if (layout.items.length === 0)
    list.push(line(filter === "" ? " no unit in the fleet file" : ` no unit fits '${filter}'`));
  while (list.length < room) list.push(emptyLine);
  const sight = outOfSight(layout, first, room);
  return [...head, ...list, ...footLines(view, sight, keysOf(view, filter, width), width)];
}

function keysOf(view: FleetView, filter: string, width: number): string {
  const hints: readonly KeyHint[] = [
    ...(filter === "" ? [] : ([["Esc all"]] as const)),
    ["arrows choose", 9],
    ["Enter opens", view.replay === undefined ? 5 : 3],
    ...(view.replay === undefined ? [] : ([[keysOfReplay]] as const)),
    ...(view.replay === undefined
      ? ([
          [viewKeys, 4],
          ["p performance", 8],
        ] as const)
      : ([[viewsHint(width), 2]] as const)),
    ["/ filter", 4],
    ["o order", 4],
    ...(view.collector === undefined ? [] : ([["w say", 6]] as const)),
    ["? keys"],
    ["q quits"],
  ];
  return keyRow(hints, width);
}

/** Rows left for the list under a head of `head` rows. */
export function listHeight(head: number, height: number): number {
  return Math.max(1, height - head - 2);
}

/** Rows of the fleet screen's head. */
export function fleetHeadHeight(
  view: FleetView,
  { order, filter }: Pick<Round, "order" | "filter">,
  silentMs: number,
): number {
  const chosenRound = roundLine(order, filter, 0, 0) === null ? 0 : 1;
  return headLines(view, silentMs, 80, "the fleet").length + 2 + chosenRound;
}

/** `3 above · 12 below (■ 2)`: units out of sight, and how many of them need someone now. */
function outOfSight(layout: FleetLayout, first: number, room: number): string {
  const above = layout.items.filter((item) => item.last < first + headingOver(layout, first));
  const below = layout.items.filter((item) => item.first >= first + room);
  return [tell(above, "above"), tell(below, "below")].filter((part) => part !== "").join(" · ");
}

function tell(items: readonly FleetItem[], where: string): string {
  if (items.length === 0) return "";
  const urgent = items.filter((item) => item.urgent).length;
  return `${items.length} ${where}${urgent === 0 ? "" : ` (${priorityMark.high} ${urgent})`}`;
}
