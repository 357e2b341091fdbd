import type { FleetView } from "../collector/fleet-view.ts";
import { ends, type Line, span } from "./line.ts";
import { truncateStart, widthOf } from "./width.ts";

/** What a person may ask of a replay, in the row of keys. */
export const keysOfReplay = "p play · s step · a alarm · t time · f F speed";

/** The last two rows of every screen: where its state is kept and what is out of sight, then the keys. */
export function footLines(
  view: Pick<FleetView, "stateFolder" | "collector" | "attached">,
  outOfSight: string,
  keys: string,
  width: number,
): readonly [Line, Line] {
  const by =
    view.attached && view.collector
      ? ` · attached to process ${view.collector.pid} (${view.collector.kind})`
      : "";
  const room = width - 8 - widthOf(by) - (outOfSight === "" ? 0 : widthOf(outOfSight) + 2);
  const folder = truncateStart(view.stateFolder, room);
  return [
    ends(
      [span(" state ", "dim"), span(folder + by, "dim")],
      [span(outOfSight === "" ? "" : `${outOfSight} `)],
      width,
    ),
    [span(` ${keys}`, "dim")],
  ];
}
