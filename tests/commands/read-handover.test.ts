import fc from "fast-check";
import { expect, it } from "vitest";
import type { Told } from "../../src/assess/lives.ts";
import { eventsSince } from "../../src/commands/read-handover.ts";
import { type EpisodeEvent, startEpisodes, takeEvent } from "../../src/report/episodes.ts";
import type { EventKind } from "../../src/terms/events.ts";
import { minute } from "../../src/terms/time.ts";
import { emptyState, keepEvents } from "../support/kept.ts";

const startMs = Date.UTC(2026, 4, 4);

/** What may follow each step of an alarm's life. */
const next: Readonly<Record<string, readonly EventKind[]>> = {
  "": ["raised", "suppressed"],
  raised: ["cleared", "suppressed", "priority-changed", "settings-changed"],
  suppressed: ["unsuppressed", "cleared"],
  unsuppressed: ["cleared", "suppressed", "priority-changed"],
  "priority-changed": ["cleared", "suppressed"],
};

const alarms = ["lost-prime", "ozone-off", "cavitation"] as const;

/** Lives of three alarms of a unit, an event a minute. */
const anyEvents = fc
  .array(fc.record({ alarm: fc.constantFrom(...alarms), choice: fc.nat() }), { minLength: 1, maxLength: 40 })
  .map((steps) => {
    const last = new Map<string, EventKind>();
    return steps.map(({ alarm, choice }, n): Told & EpisodeEvent => {
      const before = last.get(alarm) ?? "";
      const kinds = next[before === "cleared" || before === "settings-changed" ? "" : before] ?? [];
      const event = kinds[choice % kinds.length];
      last.set(alarm, event);
      const timeMs = startMs + n * minute;
      const priority = choice % 2 === 0 ? "high" : "medium";
      return { unit: "A", seq: n + 1, alarm, event, timeMs, sinceMs: timeMs, priority, message: "" };
    });
  });

function newEpisodes(events: readonly EpisodeEvent[], isNew: (seq: number) => boolean) {
  const episodes = startEpisodes();
  for (const event of events) takeEvent(episodes, event);
  return episodes.all.filter(({ seq }) => isNew(seq)).toSorted((a, b) => a.seq - b.seq);
}

it("a handover that reads the events since the last one alone tells the same of them as one that reads all", async () => {
  const { db } = await emptyState();
  fc.assert(
    fc.property(anyEvents, fc.nat(40), fc.nat(40), fc.boolean(), (all, cut, keptUpTo, byPlace) => {
      db.exec("DELETE FROM events");
      const kept = all.slice(0, keptUpTo);
      keepEvents(db, kept);
      const sinceMs = byPlace ? startMs + all.length * minute : startMs + cut * minute;
      const read = eventsSince(db, {
        sinceMs,
        seen: byPlace ? new Map([["A", cut]]) : null,
        newest: new Map([["A", kept.length]]),
        fresh: all.slice(keptUpTo),
      });
      expect(newEpisodes(read, (seq) => seq > cut)).toEqual(newEpisodes(all, (seq) => seq > cut));
      expect(read.length).toBeLessThanOrEqual(all.length);
      expect(
        read.filter(({ event }) => event === "cleared").every(({ seq }) => seq > Math.min(cut, keptUpTo)),
      ).toBe(true);
    }),
    { numRuns: 60 },
  );
  db.close();
});
