import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Told } from "../../src/assess/lives.ts";
import { alarmNames, priorities } from "../../src/terms/alarms.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { type Word, wordActions } from "../../src/terms/words.ts";
import { performance, told, word } from "../support/lives.ts";

// Definitions of ANSI/ISA-18.2-2016 and EEMUA 191, read in secondary texts; chattering by the common working rule.
const ten = 10 * minute;

/** `count` different alarms in one ten minutes that begins at `fromMs`. */
const burst = (fromMs: number, count: number) =>
  Array.from({ length: count }, (_, n) => told(fromMs + n * 1000, "raised", { unit: `LM-${n}` }));

describe("what is an announced alarm, by hand", () => {
  it("counts by day, hour and ten minutes; prompts and what was suppressed are no alarms", () => {
    const events = [
      told(0),
      told(hour, "suppressed"),
      told(2 * hour, "unsuppressed"),
      told(3 * hour, "raised", { priority: "prompt", alarm: "service-overdue" }),
      told(4 * hour, "raised", { priority: "high", alarm: "lost-prime" }),
    ];
    const figures = performance(events, [], 0, 12 * hour);
    expect(figures).toMatchObject({ announced: 3, perDay: 6, perHour: 0.25, mostInTenMinutes: 1 });
    expect(figures.perTenMinutes).toBeCloseTo(3 / 72, 10);
    expect(figures.byPriority).toEqual({ high: 1 / 3, medium: 2 / 3, low: 0 });
    expect(figures.notAnnounced.suppressed).toBe(1);
  });

  it("a prompt that becomes low is announced then, and once; one that becomes more urgent is no other alarm", () => {
    const drift = { alarm: "gas-pressure-drift" } as const;
    const events = [
      told(0, "raised", { ...drift, priority: "prompt" }),
      told(2 * day, "priority-changed", { ...drift, priority: "low" }),
      told(9 * day, "priority-changed", { ...drift, priority: "medium" }),
    ];
    expect(performance(events, [], 0, 2 * day).announced).toBe(0);
    expect(performance(events, [], 0, 10 * day)).toMatchObject({
      announced: 1,
      byPriority: { high: 0, medium: 0, low: 1 },
      atEnd: { standing: { high: 0, medium: 1, low: 0 } },
    });
    expect(performance(events, [], 3 * day, 10 * day).announced).toBe(0);
  });

  it.each(["shelve", "out-of-service"] as const)(
    "what is raised after %s is told to nobody and counted apart",
    (action) => {
      const words = [word(0, action, { untilMs: 4 * hour })];
      const events = [told(hour), told(2 * hour, "cleared")];
      const figures = performance(events, words, 0, day);
      const isShelved = action === "shelve";
      expect(figures).toMatchObject({
        announced: 0,
        notAnnounced: { whileShelved: isShelved ? 1 : 0, whileOutOfService: isShelved ? 0 : 1 },
        timesShelved: isShelved ? 1 : 0,
        timesOutOfService: isShelved ? 0 : 1,
        atEnd: { shelved: 0, outOfService: isShelved ? 0 : 1 },
      });
    },
  );

  it("one that still stands when its shelving ends is announced then, unless somebody has acknowledged it", () => {
    const shelved = word(0, "shelve", { untilMs: 4 * hour });
    const events = [told(hour)];
    const at = (words: readonly Word[], fromMs: number, toMs: number) =>
      performance(events, words, fromMs, toMs).announced;
    expect(at([shelved], 0, 4 * hour)).toBe(0);
    expect(at([shelved], 4 * hour, 5 * hour)).toBe(1);
    expect(at([shelved, word(2 * hour, "unshelve")], 2 * hour, 3 * hour)).toBe(1);
    expect(at([shelved, word(2 * hour, "acknowledge", { raisedMs: hour })], 0, day)).toBe(0);
  });

  it("shelvings end one after another, each at its own time", () => {
    const events = [told(hour), told(hour, "raised", { unit: "LM-02" })];
    const words = [
      word(0, "shelve", { untilMs: 6 * hour }),
      word(0, "shelve", { unit: "LM-02", untilMs: 4 * hour }),
    ];
    const at = (fromMs: number) => performance(events, words, fromMs, fromMs + minute).mostFrequent;
    expect(at(4 * hour)).toMatchObject([{ unit: "LM-02" }]);
    expect(at(6 * hour)).toMatchObject([{ unit: "LM-01" }]);
  });

  it("at the very end of a shelving an alarm is told as any other", () => {
    const figures = performance([told(hour)], [word(0, "shelve", { untilMs: hour })], 0, day);
    expect(figures).toMatchObject({ announced: 1, notAnnounced: { whileShelved: 0 } });
  });

  it("one that was announced, and shelved afterwards, is not announced again", () => {
    const words = [word(hour, "shelve", { untilMs: 2 * hour })];
    expect(performance([told(0)], words, 0, day).announced).toBe(1);
  });

  it("a shelving of all of a unit's alarms is one word on each of them", () => {
    const words = [word(0, "shelve", { alarm: "all", untilMs: 2 * day })];
    const figures = performance([told(hour), told(hour, "raised", { unit: "LM-02" })], words, 0, day);
    expect(figures).toMatchObject({
      announced: 1,
      notAnnounced: { whileShelved: 1 },
      timesShelved: 1,
      atEnd: { shelved: alarmNames.length, standing: { medium: 1 } },
    });
  });
});

describe("floods and busy times, by hand", () => {
  it("a flood begins with more than ten in ten minutes and ends with fewer than five", () => {
    const counts = [10, 11, 5, 4, 11, 3];
    const events = counts.flatMap((count, place) => burst(place * ten, count));
    const { floods, inFlood, busyPeriods } = performance(events, [], 0, 6 * ten);
    expect(floods).toEqual([
      { fromMs: ten, toMs: 3 * ten, alarms: 16 },
      { fromMs: 4 * ten, toMs: 5 * ten, alarms: 11 },
    ]);
    expect(inFlood).toBeCloseTo(0.5, 10);
    expect(busyPeriods).toBeCloseTo(2 / 6, 10);
  });

  it("an hour is busy with more than thirty", () => {
    const events = [...burst(0, 30), ...burst(hour, 31)];
    expect(performance(events, [], 0, 4 * hour).busyHours).toBe(1 / 4);
  });

  it("takes a window of many years", () => {
    expect(performance([told(0)], [], 0, 20 * 365 * day)).toMatchObject({
      announced: 1,
      mostInTenMinutes: 1,
    });
  });
});

describe("alarms that come and go, by hand", () => {
  const at = (seconds: readonly number[]) =>
    performance(
      seconds.map((s) => told(s * 1000)),
      [],
      0,
      day,
    );
  it("three times within a minute is chattering, twice or more slowly is not", () => {
    expect(at([0, 30, 60]).chattering).toEqual([{ unit: "LM-01", alarm: "cavitation" }]);
    expect(at([0, 30, 61]).chattering).toEqual([]);
    expect(at([0, 30]).chattering).toEqual([]);
  });

  it("four times within an hour is what the screen calls chattering", () => {
    expect(at([0, 1000, 2000, 3600]).repeating).toHaveLength(1);
    expect(at([0, 1000, 2000, 3601]).repeating).toEqual([]);
  });

  it("fleeting is what is back to normal within a minute, by its readings and not by its off-delay", () => {
    const fleeting = (seconds: number) =>
      performance([told(0), told(5 * minute, "cleared", { sinceMs: seconds * 1000 })], [], 0, day).fleeting;
    expect(fleeting(59)).toEqual([{ unit: "LM-01", alarm: "cavitation", times: 1 }]);
    expect(fleeting(60)).toEqual([]);
    const often = [0, 20, 40].flatMap((s) => [
      told(s * 1000),
      told(s * 1000 + 5000, "cleared", { sinceMs: s * 1000 + 2000 }),
    ]);
    expect(performance(often, [], 0, day)).toMatchObject({ fleeting: [], chattering: [{}] });
  });
});

describe("stale alarms, by hand", () => {
  const stale = (...events: Told[]) => performance(events, [], 0, 2 * day).stale.length;

  it("is stale after a day of standing, whether or not it became more urgent", () => {
    expect(stale(told(0))).toBe(1);
    expect(stale(told(day))).toBe(0);
    expect(stale(told(0), told(hour, "cleared"))).toBe(0);
    expect(stale(told(0), told(hour, "priority-changed", { priority: "high" }))).toBe(1);
  });

  it("counts on each day on which it had stood for more than a day, from before the window too", () => {
    const events = [told(-5 * day), told(1.5 * day, "cleared"), told(2 * day, "raised", { unit: "LM-02" })];
    const { staleByDay, mostStaleOnADay } = performance(events, [], 0, 4 * day);
    expect(staleByDay).toEqual([
      { fromMs: 0, toMs: day, alarms: 1 },
      { fromMs: day, toMs: 2 * day, alarms: 1 },
      { fromMs: 2 * day, toMs: 3 * day, alarms: 0 },
      { fromMs: 3 * day, toMs: 4 * day, alarms: 1 },
    ]);
    expect(mostStaleOnADay).toBe(1);
  });

  it("days are counted back from the window's end; the first may be a part of one", () => {
    expect(performance([told(0)], [], 0, 1.25 * day).staleByDay).toEqual([
      { fromMs: 0, toMs: 0.25 * day, alarms: 0 },
      { fromMs: 0.25 * day, toMs: 1.25 * day, alarms: 1 },
    ]);
  });

  it("does not count while it is shelved: then it stands before nobody", () => {
    const words = [word(day / 2, "shelve", { untilMs: 3 * day })];
    const { staleByDay } = performance([told(0)], words, 0, 4 * day);
    expect(staleByDay.map(({ alarms }) => alarms)).toEqual([0, 0, 0, 1]);
  });
});

describe("acknowledging, by hand", () => {
  it("the time is that of the first who did, of the raising that was meant", () => {
    const events = [told(0), told(hour, "cleared"), told(2 * hour)];
    const words = [
      word(10 * minute, "acknowledge", { raisedMs: 0 }),
      word(20 * minute, "acknowledge", { raisedMs: 0 }),
      word(2 * hour + 30 * minute, "acknowledge", { raisedMs: 2 * hour }),
    ];
    expect(performance(events, words, 0, day).acknowledgement.medium).toEqual({
      acknowledged: 2,
      unacknowledged: 0,
      medianMs: 20 * minute,
      ninetiethMs: null,
    });
  });

  it("of a raising that is over, said once it was raised anew, is of the one that was meant", () => {
    const events = [told(0), told(hour, "cleared"), told(2 * hour)];
    const words = [word(3 * hour, "acknowledge", { raisedMs: 0 })];
    expect(performance(events, words, 0, day).acknowledgement.medium).toMatchObject({
      acknowledged: 1,
      unacknowledged: 1,
      medianMs: 3 * hour,
    });
  });

  it("median and 90th percentile by priority, with how many nobody acknowledged", () => {
    const events = Array.from({ length: 12 }, (_, n) =>
      told(n * hour, "raised", { unit: `LM-${n}`, priority: n === 11 ? "high" : "medium" }),
    );
    const words = events
      .slice(0, 11)
      .map(({ unit, timeMs: raisedMs }, n) =>
        word(raisedMs + (n + 1) * minute, "acknowledge", { unit, raisedMs }),
      );
    expect(performance(events, words, 0, day).acknowledgement).toMatchObject({
      all: { acknowledged: 11, unacknowledged: 1 },
      medium: { acknowledged: 11, unacknowledged: 0, medianMs: 6 * minute, ninetiethMs: 10 * minute },
      high: { acknowledged: 0, unacknowledged: 1, medianMs: null },
    });
  });

  it("is no less than nothing where the logger's clock is ahead", () => {
    const words = [word(0, "acknowledge", { raisedMs: 5 * minute })];
    expect(performance([told(5 * minute)], words, 0, hour).acknowledgement.all).toMatchObject({
      acknowledged: 1,
      medianMs: 0,
    });
  });

  it("what is said after the window's end is not known within it", () => {
    const words = [word(2 * hour, "acknowledge", { raisedMs: 0 })];
    const { acknowledgement, atEnd } = performance([told(0)], words, 0, hour);
    expect(acknowledgement.all).toMatchObject({ acknowledged: 0, unacknowledged: 1 });
    expect(atEnd).toMatchObject({ unacknowledged: 1 });
  });

  it("one that chatters and kept its answer waits for nobody", () => {
    const raisings = [0, 10, 20, 30].map((m) => m * minute);
    const events = raisings.flatMap((timeMs) => [told(timeMs), told(timeMs + 5 * minute, "cleared")]);
    const again = told(40 * minute);
    const words = raisings.map((raisedMs) => word(raisedMs + minute, "acknowledge", { raisedMs }));
    // The fourth is still acknowledged when the fifth comes.
    const figures = performance([...events.slice(0, -1), again], words, 0, hour);
    expect(figures.announced).toBe(5);
    expect(figures.acknowledgement.all).toMatchObject({ acknowledged: 4, unacknowledged: 0 });
  });
});

describe("for all lives", () => {
  const kinds = ["raised", "cleared", "suppressed", "unsuppressed", "priority-changed"] as const;
  const someEvents = fc.array(
    fc.record({
      timeMs: fc.integer({ min: 0, max: 3 * day }),
      unit: fc.constantFrom("LM-01", "LM-02"),
      alarm: fc.constantFrom("cavitation" as const, "gas-pressure-drift" as const),
      event: fc.constantFrom(...kinds),
      priority: fc.constantFrom(...priorities),
    }),
    { maxLength: 60 },
  );
  const someWords = fc.array(
    fc.record({
      atMs: fc.integer({ min: 0, max: 3 * day }),
      unit: fc.constantFrom("LM-01", "LM-02"),
      alarm: fc.constantFrom("cavitation" as const, "all" as const),
      action: fc.constantFrom(...wordActions),
      lastsMs: fc.integer({ min: 1, max: day }),
    }),
    { maxLength: 20 },
  );
  const lives = fc.tuple(someEvents, someWords).map(([events, words]) => ({
    events: events.map(({ timeMs, event, ...more }) => told(timeMs, event, more)).sort(byTime),
    words: words.map(({ atMs, action, lastsMs, ...more }) =>
      word(atMs, action, { ...more, ...(action === "shelve" && { untilMs: atMs + lastsMs }) }),
    ),
  }));
  const byTime = (a: Told, b: Told) => a.timeMs - b.timeMs;

  it("two windows that meet hold together what one over both holds", () => {
    fc.assert(
      fc.property(lives, fc.integer({ min: 1, max: 3 * day - 1 }), ({ events, words }, splitMs) => {
        const [before, after, whole] = [
          [0, splitMs],
          [splitMs, 3 * day],
          [0, 3 * day],
        ].map(([fromMs, toMs]) => performance(events, words, fromMs, toMs));
        expect(before.announced + after.announced).toBe(whole.announced);
        expect(before.timesShelved + after.timesShelved).toBe(whole.timesShelved);
        for (const kind of ["whileShelved", "whileOutOfService", "suppressed"] as const) {
          expect(before.notAnnounced[kind] + after.notAnnounced[kind]).toBe(whole.notAnnounced[kind]);
        }
        expect(after.atEnd).toEqual(whole.atEnd);
      }),
    );
  });

  it("priorities and answers are those of what was announced; means lie under the most, shares within 0 and 1", () => {
    fc.assert(
      fc.property(lives, ({ events, words }) => {
        const figures = performance(events, words, 0, 3 * day);
        const { announced, byPriority, acknowledgement } = figures;
        const sum = byPriority.high + byPriority.medium + byPriority.low;
        expect(sum).toBeCloseTo(announced === 0 ? 0 : 1, 10);
        const { all, high, medium, low } = acknowledgement;
        expect(all.acknowledged).toBe(high.acknowledged + medium.acknowledged + low.acknowledged);
        expect(all.acknowledged + all.unacknowledged).toBeLessThanOrEqual(announced);
        expect(figures.perTenMinutes).toBeLessThanOrEqual(figures.mostInTenMinutes);
        for (const share of [
          figures.inFlood,
          figures.busyPeriods,
          figures.busyHours,
          figures.mostFrequentShare,
        ]) {
          expect(share).toBeGreaterThanOrEqual(0);
          expect(share).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  it("where nobody says anything, every raising that is no prompt is announced", () => {
    fc.assert(
      fc.property(lives, ({ events }) => {
        const raised = events.filter(
          ({ event, priority }) => (event === "raised" || event === "unsuppressed") && priority !== "prompt",
        );
        const { announced, notAnnounced } = performance(events, [], 0, 3 * day + 1);
        expect(announced).toBeGreaterThanOrEqual(raised.length);
        expect(notAnnounced).toMatchObject({ whileShelved: 0, whileOutOfService: 0 });
      }),
    );
  });
});
