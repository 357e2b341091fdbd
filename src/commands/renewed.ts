import type { Renewed } from "../assess/heard.ts";
import { eventsIn } from "../store/events.ts";
import type { Database } from "../store/sqlite.ts";

/** Whether an alarm's kept events make an acknowledgement one anew. */
export function renewedIn(db: Database): Renewed {
  return (unit, alarm, fromMs, toMs) =>
    [...eventsIn(db, { sinceMs: fromMs, untilMs: toMs, unit })].some(({ line }) => {
      const event = JSON.parse(line) as { alarm: string; event: string };
      return event.alarm === alarm && (event.event === "cleared" || event.event === "priority-changed");
    });
}
