import { describe, expect, it } from "vitest";
import type { AlarmState } from "../../src/collector/fleet-view.ts";
import { viewUnit } from "../../src/collector/view.ts";
import type { EventKind } from "../../src/terms/events.ts";
import { dry } from "../support/fleets.ts";
import { but, hourClean, readings, run, start, unitOf } from "../support/unit-days.ts";

/**
 * Source: ANSI/ISA-18.2-2016 and IEC 62682:2014, the alarm state transition diagram, states B, C, D, G, H
 * and I (A, normal, is no open alarm; E and F are of latched alarms). The letters are from memory.
 */
const states: Readonly<Record<AlarmState, { letter: string; name: string }>> = {
  "active-unacknowledged": { letter: "B", name: "unacknowledged active" },
  "active-acknowledged": { letter: "C", name: "acknowledged active" },
  "returned-unacknowledged": { letter: "D", name: "returned to normal, unacknowledged" },
  shelved: { letter: "G", name: "shelved" },
  suppressed: { letter: "H", name: "suppressed by design" },
  "out-of-service": { letter: "I", name: "out of service" },
};

/** What a person or a condition does to an alarm there; the standard's words, hyphenated. */
const transitions: Readonly<Record<EventKind, "standard" | "own">> = {
  raised: "own",
  cleared: "own",
  "priority-changed": "own",
  suppressed: "standard",
  unsuppressed: "standard",
  acknowledged: "standard",
  shelved: "standard",
  unshelved: "standard",
  "out-of-service": "standard",
  "returned-to-service": "standard",
  noted: "own",
  "settings-changed": "own",
};

describe("alarm words are those of ANSI/ISA-18.2", () => {
  const unit = unitOf("{ id: LM-01, ozone: none }");
  const state = start(unit);
  const hot = but({ ...dry, motor_temperature: 95 });
  const batch = readings([hourClean, { seconds: 900, values: hot }]);
  const findings = run(state, { kind: "readings", batch });
  const log = { files: [], rows: 0, repeats: 0, late: 0, rejected: 0, newestRejected: [] };
  const { alarms } = viewUnit(
    state,
    { display: "si", timezone: "UTC" },
    log,
    null,
    batch.timeMs[batch.rows - 1],
  );

  it("an alarm nobody has acknowledged is in state B, its consequence suppressed by design, state H", () => {
    expect(alarms.map(({ alarm, state: word }) => [alarm, states[word].letter])).toEqual([
      ["lost-prime", "B"],
      ["overheating", "H"],
    ]);
  });

  it("each open state is one of the standard's, and no two are the same", () => {
    const letters = Object.values(states).map(({ letter }) => letter);
    expect(letters.toSorted()).toEqual(["B", "C", "D", "G", "H", "I"]);
  });

  it("suppressed alarms are logged all the same: suppression is an event, not silence", () => {
    const words = findings.map(({ event }) => event);
    expect(words).toEqual(["raised", "suppressed"]);
    for (const word of words) expect(transitions[word]).toBeDefined();
  });
});
