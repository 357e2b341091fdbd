import { describe, expect, it } from "vitest";
import {
  type AlarmResponse,
  endShelving,
  noteEvent,
  responseState,
  startResponse,
  takeWord,
} from "../../src/assess/response.ts";
import type { Priority } from "../../src/terms/alarms.ts";
import type { EventKind } from "../../src/terms/events.ts";
import { hour, minute } from "../../src/terms/time.ts";
import type { Word } from "../../src/terms/words.ts";

/** One alarm, with what happens to it and what people say; states by ANSI/ISA-18.2-2016, clause 5.3 (from memory). */
function alarmOf(latches = false) {
  const response: AlarmResponse = startResponse();
  let told: "none" | "raised" | "suppressed" = "none";
  let seq = 0;
  return {
    response,
    happens(event: EventKind, timeMs: number, { priority = "medium" as Priority, late = false } = {}) {
      told = event === "suppressed" ? "suppressed" : event === "cleared" ? "none" : "raised";
      const finding = {
        timeMs,
        alarm: "cavitation",
        event,
        priority,
        sinceMs: timeMs,
        message: "",
        evidence: {},
      } as const;
      noteEvent(response, { ...finding, unit: "LM-01", seq: ++seq }, latches, late);
    },
    says: (action: Word["action"], atMs: number, rest: Partial<Word> = {}) =>
      takeWord(response, { id: "w", atMs, unit: "LM-01", alarm: "cavitation", action, by: "Ann", ...rest }),
    state: () => responseState(response, { told }, latches),
  };
}

describe("an alarm that people answer", () => {
  it("is acknowledged while it stands, and over when it returns", () => {
    const alarm = alarmOf();
    expect(alarm.state()).toBeNull();
    alarm.happens("raised", 1000);
    expect(alarm.state()).toBe("active-unacknowledged");
    expect(alarm.says("acknowledge", 2000, { raisedMs: 1000 })).toBe(true);
    expect(alarm.state()).toBe("active-acknowledged");
    alarm.happens("cleared", 3000);
    expect(alarm.state()).toBeNull();
  });

  it("waits for somebody where it returned before anybody saw it", () => {
    const alarm = alarmOf();
    alarm.happens("raised", 1000);
    alarm.happens("cleared", 2000);
    expect(alarm.state()).toBe("returned-unacknowledged");
    alarm.says("acknowledge", 3000);
    expect(alarm.state()).toBeNull();
  });

  it("is nobody's to answer where it came and went within readings that were read late", () => {
    const alarm = alarmOf();
    alarm.happens("raised", 1000, { late: true });
    alarm.happens("cleared", 2000, { late: true });
    expect(alarm.state()).toBeNull();
    alarm.happens("raised", 3000);
    alarm.happens("cleared", 4000, { late: true });
    expect(alarm.state()).toBe("returned-unacknowledged");
  });

  it("keeps the first acknowledgement, and none that was meant for an earlier raising", () => {
    const alarm = alarmOf();
    alarm.happens("raised", 1000);
    alarm.says("acknowledge", 2000, { by: "Ann" });
    expect(alarm.says("acknowledge", 2001, { by: "Ben" })).toBe(false);
    expect(alarm.response.acknowledged?.by).toBe("Ann");
    alarm.happens("cleared", 3000);
    alarm.happens("raised", 4000);
    expect(alarm.says("acknowledge", 5000, { raisedMs: 1000 })).toBe(false);
    expect(alarm.state()).toBe("active-unacknowledged");
  });

  it("waits anew where it becomes more urgent, not where it becomes less", () => {
    const alarm = alarmOf();
    alarm.happens("raised", 1000);
    alarm.says("acknowledge", 2000);
    alarm.happens("priority-changed", 3000, { priority: "low" });
    expect(alarm.state()).toBe("active-acknowledged");
    alarm.happens("priority-changed", 4000, { priority: "high" });
    expect(alarm.state()).toBe("active-unacknowledged");
  });

  it("stays where it latches, until it is acknowledged after its return", () => {
    const alarm = alarmOf(true);
    alarm.happens("raised", 1000);
    alarm.says("acknowledge", 2000);
    alarm.happens("cleared", 3000);
    expect(alarm.state()).toBe("active-acknowledged");
    alarm.says("acknowledge", 4000);
    expect(alarm.state()).toBeNull();
  });

  it("keeps its acknowledgement while it chatters, and no longer than an hour", () => {
    const alarm = alarmOf();
    for (const n of [0, 1, 2, 3]) {
      alarm.happens("raised", n * 5 * minute);
      if (n < 3) alarm.happens("cleared", n * 5 * minute + minute);
    }
    alarm.says("acknowledge", 16 * minute);
    alarm.happens("cleared", 17 * minute);
    alarm.happens("raised", 18 * minute);
    expect(alarm.state()).toBe("active-acknowledged");
    alarm.happens("cleared", 19 * minute);
    alarm.happens("raised", 19 * minute + 2 * hour);
    expect(alarm.state()).toBe("active-unacknowledged");
  });

  it("is shelved until its end and never without one", () => {
    const alarm = alarmOf();
    alarm.happens("raised", 1000);
    expect(alarm.says("shelve", 2000)).toBe(false);
    alarm.says("shelve", 2000, { untilMs: 2000 + hour });
    expect(alarm.state()).toBe("shelved");
    expect(endShelving(alarm.response, 1999 + hour)).toBe(false);
    expect(endShelving(alarm.response, 2000 + hour)).toBe(true);
    expect(alarm.state()).toBe("active-unacknowledged");
  });

  it("is out of service until somebody returns it, also over its return", () => {
    const alarm = alarmOf();
    alarm.says("out-of-service", 500);
    alarm.happens("raised", 1000);
    expect(alarm.state()).toBe("out-of-service");
    alarm.says("return-to-service", 2000);
    expect(alarm.state()).toBe("active-unacknowledged");
  });

  it("has nothing to answer while its cause suppresses it", () => {
    const alarm = alarmOf();
    alarm.happens("raised", 1000);
    alarm.happens("suppressed", 2000);
    expect(alarm.state()).toBe("suppressed");
    expect(alarm.says("acknowledge", 2500)).toBe(false);
    alarm.happens("cleared", 3000);
    expect(alarm.state()).toBeNull();
  });
});
