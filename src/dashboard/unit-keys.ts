import type { FleetView } from "../collector/fleet-view.ts";
import { keysOfReplay } from "./foot.ts";
import { widthOf } from "./width.ts";

/** What the row of keys of a unit's screen depends on. */
export interface KeysShown {
  /** Alarms that wait to be acknowledged, and how many of them are in sight. */
  readonly waits: { readonly all: number; readonly inSight: number };
  readonly chartsInSight: boolean;
  readonly marked: boolean;
  /** The charts stand still, and do not go on with the clock. */
  readonly still: boolean;
}

/** The keys that a person may want next, as many as the width has room for; what matters most is never left out. */
export function unitKeys(view: FleetView, shown: KeysShown, width: number): string {
  const says = view.collector !== undefined;
  const now = shown.still && (view.replay === undefined ? "n now" : "n to the replay");
  const parts: readonly (readonly [string | false, number])[] = shown.marked
    ? [
        ["m, Esc away", 0],
        ["left, right move the mark", 0],
        [", . earlier, later", 1],
        ["+ - time", 2],
        [now, 2],
        ["? explains", 2],
        ["q quits", 0],
      ]
    : [
        ["Esc back", 0],
        [says && acknowledges(shown.waits), shown.chartsInSight ? 2 : 0],
        [view.replay !== undefined && keysOfReplay, shown.chartsInSight ? 2 : 0],
        ["left, right unit", 4],
        ["Tab part", 3],
        ["+ - time", shown.chartsInSight ? 0 : 1],
        [", . earlier, later", shown.chartsInSight ? 0 : 4],
        [shown.chartsInSight && "m mark", 0],
        [now, 1],
        [says && "w say", 2],
        [view.replay === undefined ? "? explains" : "? keys", 1],
        ["q quits", 0],
      ];
  for (let least = 5; least > 0; least--) {
    const text = joined(parts.filter(([, rank]) => rank < least));
    if (widthOf(text) + 1 <= width) return text;
  }
  return joined(parts.filter(([, rank]) => rank === 0));
}

function acknowledges({ all, inSight }: KeysShown["waits"]): string | false {
  return all > 0 && `y acknowledges${inSight === all ? "" : ` ${inSight} of ${all}`}`;
}

function joined(parts: readonly (readonly [string | false, number])[]): string {
  return parts.flatMap(([text]) => (text === false ? [] : [text])).join(" · ");
}
