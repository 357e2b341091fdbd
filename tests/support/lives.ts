import { goOnTo, startLives, type Told, tell } from "../../src/assess/lives.ts";
import { figuresOf, type Performance } from "../../src/assess/performance.ts";
import type { AlarmName, Priority } from "../../src/terms/alarms.ts";
import type { Word } from "../../src/terms/words.ts";

interface More {
  readonly unit?: string;
  readonly alarm?: AlarmName;
  readonly priority?: Priority;
  /** When the condition went back to normal, of `cleared`. */
  readonly sinceMs?: number;
}

/** An event of an alarm, as far as its life needs it. */
export function told(timeMs: number, event: Told["event"] = "raised", more: More = {}): Told {
  const { unit = "LM-01", alarm = "cavitation", priority = "medium", sinceMs = timeMs } = more;
  return { timeMs, unit, alarm, event, priority, sinceMs, seq: 1 };
}

/** A person's word on that alarm. */
export function word(atMs: number, action: Word["action"], more: Partial<Word> = {}): Word {
  return { id: String(atMs), atMs, unit: "LM-01", alarm: "cavitation", action, by: "Ann", ...more };
}

/** The figures of a window over events in order of time. */
export function performance(
  events: readonly Told[],
  words: readonly Word[],
  fromMs: number,
  toMs: number,
): Performance {
  const lives = startLives(words, fromMs);
  for (const event of events) if (event.timeMs < toMs) tell(lives, event);
  goOnTo(lives, toMs);
  return figuresOf(lives, fromMs, toMs);
}
