import type { FleetView } from "../collector/fleet-view.ts";
import { footLines } from "./foot.ts";
import { headLines, rule } from "./head.ts";
import { emptyLine, type Line } from "./line.ts";
import { clampTop } from "./viewport.ts";

const keys = "Esc back · arrows, Page Up, Page Down scroll · q quits";

/** The explanation's screen, exactly `height` rows. */
export function helpScreen(
  lines: readonly Line[],
  view: FleetView,
  top: number,
  silentMs: number,
  width: number,
  height: number,
): readonly Line[] {
  const head = [...headLines(view, silentMs, width), rule(width)];
  const room = Math.max(1, height - head.length - 2);
  const first = clampTop(top, room, lines.length);
  const shown = lines.slice(first, first + room);
  const below = lines.length - first - room;
  return [
    ...head,
    ...shown,
    ...Array.from({ length: room - shown.length }, () => emptyLine),
    ...footLines(view, below > 0 ? `${below} rows below` : "", keys, width),
  ];
}

/** Rows of explanation that fit. */
export function helpHeight(view: FleetView, silentMs: number, height: number): number {
  return Math.max(1, height - headLines(view, silentMs, 80).length - 3);
}
