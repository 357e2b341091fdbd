import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { differenceLines } from "../../src/commands/differences-text.ts";
import { differencesOf } from "../../src/replay/differences.ts";
import type { AlarmEvent } from "../../src/terms/events.ts";
import { hour, minute } from "../../src/terms/time.ts";
import { midnight } from "../support/unit-days.ts";

function event(change: Partial<AlarmEvent> = {}): AlarmEvent {
  const timeMs = change.timeMs ?? midnight + hour;
  return {
    timeMs,
    unit: "LM-01",
    seq: 1,
    alarm: "lost-prime",
    event: "raised",
    priority: "high",
    sinceMs: timeMs - 30_000,
    message: "Discharge pressure collapsed to 1 kPa.",
    evidence: {},
    ...change,
  };
}

const lines = (before: AlarmEvent[], after: AlarmEvent[]) => differenceLines(differencesOf(before, after));

describe("what another replay tells otherwise", () => {
  it("an alarm that a longer delay raises later has moved, however far: its condition began at the same time", () => {
    const after = event({ timeMs: midnight + 4 * hour, sinceMs: event().sinceMs });
    expect(lines([event()], [after])).toEqual([
      "moved  2026-05-04T04:00:00.000Z LM-01 raised lost-prime: 3 h later",
      "1 event: 0 gone, 0 come, 1 moved, 0 as before",
    ]);
  });

  it("an alarm that is not raised any more has gone, and moves nothing but the count of those after it", () => {
    const cleared = event({ event: "cleared", seq: 2, timeMs: midnight + 2 * hour });
    expect(lines([event(), cleared], [{ ...cleared, seq: 1 }])).toEqual([
      "gone   2026-05-04T01:00:00.000Z LM-01 raised lost-prime: Discharge pressure collapsed to 1 kPa.",
      "1 event: 1 gone, 0 come, 0 moved, 1 as before",
    ]);
  });

  it("the nearest in time belong together; what lies hours apart are two alarms", () => {
    const early = event({ timeMs: midnight + 10 * minute });
    const late = event({ timeMs: midnight + 9 * hour });
    const moved = event({ timeMs: midnight + 12 * minute });
    const come = event({ timeMs: midnight + 5 * hour });
    expect(differencesOf([early, late], [moved, come])).toEqual({
      gone: [late],
      come: [come],
      moved: [{ before: early, after: moved }],
      same: 0,
    });
  });

  it("tells another priority and another message of the same moment", () => {
    const after = event({ priority: "medium", message: "Discharge pressure collapsed to 2 kPa." });
    expect(lines([event()], [after])[0]).toBe(
      "moved  2026-05-04T01:00:00.000Z LM-01 raised lost-prime: high → medium; Discharge pressure collapsed to 2 kPa.",
    );
  });

  const events = fc
    .array(
      fc.record({
        minute: fc.nat(600),
        unit: fc.constantFrom("LM-01", "LM-02"),
        event: fc.constantFrom("raised" as const, "cleared" as const),
      }),
      { maxLength: 12 },
    )
    .map((drawn) =>
      drawn
        .map((one) => event({ unit: one.unit, event: one.event, timeMs: midnight + one.minute * minute }))
        .sort((a, b) => a.timeMs - b.timeMs),
    );

  it("accounts for every event of both, once", () => {
    fc.assert(
      fc.property(events, events, (before, after) => {
        const { gone, come, moved, same } = differencesOf(before, after);
        expect(gone.length + moved.length + same).toBe(before.length);
        expect(come.length + moved.length + same).toBe(after.length);
        expect(new Set([...gone, ...moved.map((pair) => pair.before)]).size).toBe(before.length - same);
      }),
    );
  });

  it("is nothing where nothing changed", () => {
    fc.assert(
      fc.property(events, (same) => {
        expect(differencesOf(same, same)).toEqual({ gone: [], come: [], moved: [], same: same.length });
      }),
    );
  });
});
