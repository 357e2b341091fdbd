import { second } from "../terms/time.ts";

/** The rate is taken over so long, so that it follows a slow disk and does not flicker (house choice). */
const overMs = 5 * second;
/** Over less than this a rate says nothing. */
const leastMs = second / 2;

/** How often it is told how far the logs are read, ms. */
export const progressEveryMs = second / 5;

/** How fast something is read. */
export interface Pace {
  /** Takes in how many bytes were read at `timeMs`; bytes a second of late, null until that can be told. */
  note(timeMs: number, bytesRead: number): number | null;
}

export function startPace(): Pace {
  const noted: { timeMs: number; bytesRead: number }[] = [];
  return {
    note(timeMs, bytesRead) {
      noted.push({ timeMs, bytesRead });
      while (noted.length > 2 && noted[1].timeMs <= timeMs - overMs) noted.shift();
      const [first] = noted;
      const passedMs = timeMs - first.timeMs;
      return passedMs < leastMs ? null : Math.max(0, ((bytesRead - first.bytesRead) * second) / passedMs);
    },
  };
}
