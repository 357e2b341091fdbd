import type { AlarmLife } from "../assess/life.ts";
import type { Finding } from "../terms/events.ts";
import type { Following } from "./following.ts";
import type { Restored } from "./restore.ts";

const stands = ({ told }: AlarmLife): boolean => told === "raised" || told === "suppressed";

/** What is told of alarms that stood and whose rule starts anew under other settings. */
export function tellDropped({ player: { state } }: Following, { dropped }: Restored): Finding[] {
  const timeMs = state.condition.lastTimeMs ?? 0;
  return dropped.map((life) => settingsChanged(life, timeMs));
}

/**
 * What is told of a unit once its logs have been read again from their beginning: only where what stands now is
 * another than what stood before. Up to then nothing that had been told was told again.
 */
export function tellReadAgain(following: Following): Finding[] {
  const { readAgain, player, responses } = following;
  if (readAgain === null) return [];
  following.readAgain = null;
  const { lives, condition } = player.state;
  const timeMs = condition.lastTimeMs ?? readAgain.toldMs;
  const over = readAgain.lives.filter(({ alarm }) => {
    const response = responses[alarm];
    const standsToPeople = response !== undefined && (response.suppressed || response.returnedMs === null);
    return standsToPeople && !lives.some((life) => life.alarm === alarm && stands(life));
  });
  const fresh = lives.filter(
    (life) =>
      stands(life) &&
      life.raisedMs <= readAgain.toldMs &&
      !readAgain.lives.some(({ alarm }) => alarm === life.alarm),
  );
  return [
    ...over.map((life) => settingsChanged(life, timeMs)),
    ...fresh.map(({ alarm, priority, sinceMs, told, by, message, evidence }): Finding => {
      const event = told === "suppressed" ? "suppressed" : "raised";
      return { timeMs, alarm, event, priority, sinceMs, ...(by && { by }), message, evidence };
    }),
  ];
}

function settingsChanged({ alarm, priority, sinceMs }: AlarmLife, timeMs: number): Finding {
  const message = "What it rests on in the fleet file has changed; it is judged anew.";
  return { timeMs, alarm, event: "settings-changed", priority, sinceMs, message, evidence: {} };
}
