import type { ReplaySpeed } from "../collector/replay-view.ts";

const speeds = [1, 2, 5, 10, 30, 60, 120, 300, 600, 1800, 3600] as const;

/** The next higher speed; behind the highest, `max`. */
export function faster(speed: ReplaySpeed): ReplaySpeed {
  return speed === "max" ? "max" : (speeds.find((each) => each > speed) ?? "max");
}

/** The next lower speed; real time is the lowest but for one that was asked for. */
export function slower(speed: ReplaySpeed): ReplaySpeed {
  if (speed === "max") return speeds[speeds.length - 1];
  return speeds.findLast((each) => each < speed) ?? speed;
}
