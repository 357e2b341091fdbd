import { ends, type Line, span } from "./line.ts";
import { truncateStart, widthOf } from "./width.ts";

/** What a person may ask of a replay, in the row of keys. */
export const keysOfReplay = "p play · s step · a alarm · t time · f F speed";

/** The last two rows of every screen: where its state is kept and what is out of sight, then the keys. */
export function footLines(
  stateFolder: string,
  outOfSight: string,
  keys: string,
  width: number,
): readonly [Line, Line] {
  const room = width - 8 - (outOfSight === "" ? 0 : widthOf(outOfSight) + 2);
  const folder = truncateStart(stateFolder, room);
  return [
    ends(
      [span(" state ", "dim"), span(folder, "dim")],
      [span(outOfSight === "" ? "" : `${outOfSight} `)],
      width,
    ),
    [span(` ${keys}`, "dim")],
  ];
}
