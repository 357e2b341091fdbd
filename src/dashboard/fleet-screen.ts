import type { FleetView } from "../collector/fleet-view.ts";
import { type FleetItem, type FleetLayout, headingOver, visibleRows } from "./fleet-layout.ts";
import { footLines, keysOfReplay } from "./foot.ts";
import { countLine, headLines, rule } from "./head.ts";
import { emptyLine, type Line, line } from "./line.ts";
import { chosenIndex } from "./navigation.ts";
import { scrolledTo } from "./viewport.ts";
import { priorityMark } from "./words.ts";

const keys = "arrows choose · Enter opens · ? explains keys and marks · q quits";
const keysWhereKept = "arrows choose · Enter opens · w say · ? explains keys and marks · q quits";
const replayKeys = `Enter opens · ${keysOfReplay} · ? keys · q quits`;

/** The fleet's screen from top to bottom, exactly `height` rows, and the row at which its list stands. */
export function fleetScreen(
  view: FleetView,
  layout: FleetLayout,
  unit: string | null,
  top: number,
  silentMs: number,
  width: number,
  height: number,
): readonly Line[] {
  const head = [...headLines(view, silentMs, width), countLine(view), rule(width)];
  const room = listHeight(head.length, height);
  const item = layout.items[chosenIndex(layout.items, unit)];
  const first =
    item === undefined ? 0 : scrolledTo(top, room, item.revealFrom, item.last, layout.rows.length);
  const list: Line[] = [...visibleRows(layout, first, room, item)];
  if (layout.items.length === 0) list.push(line(" no unit in the fleet file"));
  while (list.length < room) list.push(emptyLine);
  const sight = outOfSight(layout, first, room);
  const kept = view.collector === undefined ? keys : keysWhereKept;
  return [...head, ...list, ...footLines(view, sight, view.replay === undefined ? kept : replayKeys, width)];
}

/** Rows left for the list under a head of `head` rows. */
export function listHeight(head: number, height: number): number {
  return Math.max(1, height - head - 2);
}

/** Rows of the fleet screen's head. */
export function fleetHeadHeight(view: FleetView, silentMs: number): number {
  return headLines(view, silentMs, 80).length + 2;
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
