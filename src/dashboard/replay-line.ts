import type { FleetView } from "../collector/fleet-view.ts";
import type { ReplayView } from "../collector/replay-view.ts";
import { ends, type Line, span } from "./line.ts";
import { clockTime, localDate, moment } from "./local-time.ts";

/** Says that a recording is played, how, where it goes, and what part of it. */
export function replayLine(replay: ReplayView, { clockMs, timezone }: FleetView, width: number): Line {
  const at = (timeMs: number): string => moment(timeMs, clockMs, timezone);
  return ends(
    [span(" "), span(" replay ", "selected"), span(` ${replayWords(replay, at)}`)],
    [span(`${dated(replay.fromMs, timezone)} to ${dated(replay.toMs, timezone)} `)],
    width,
  );
}

function dated(timeMs: number, timezone: string): string {
  return `${localDate(timeMs, timezone)} ${clockTime(timeMs, timezone)}`;
}

function replayWords({ speed, paused, goingTo, note }: ReplayView, at: (timeMs: number) => string): string {
  const pace = speed === "max" ? "as fast as it can" : `${speed} ×`;
  const words = [paused ? "paused" : "plays", pace];
  if (goingTo !== null) words.push(`going to ${at(goingTo.timeMs)}, ${Math.floor(100 * goingTo.done)} %`);
  if (note !== null) words.push(note);
  return words.join(" · ");
}
