import { describe, expect, it } from "vitest";
import {
  wantedClean,
  wantedDrift,
  wantedExperiments,
  wantedFaulty,
  wantedHeat,
  wantedLines,
} from "../../bench/wanted.ts";
import { score } from "../../src/score/score.ts";
import { at, fault, told } from "../score/told.ts";

/** What is said of one thing that was wanted. */
function line(list: readonly ReturnType<typeof wantedHeat>[], what: string): string | undefined {
  return wantedLines(list)
    .find((text) => text.startsWith(`${what} `))
    ?.replace(/ +/g, " ");
}

describe("what was wanted beside what was measured", () => {
  it("tells of each alarm whether it was caught and in time", () => {
    const faulty = score(
      ["01:00-03:00 lost-prime", "04:00-06:00 cavitation"].map(fault),
      told("01:01 raised lost-prime", "04:02 raised cavitation"),
      10,
    );
    const list = wantedFaulty(faulty);
    expect(line(list, "recall of lost-prime")).toBe("recall of lost-prime wanted ≥ 0.9 measured 1.000 ok");
    // A minute is not below a minute.
    expect(line(list, "delay of lost-prime, median")).toMatch(/wanted < 60 s measured 60 s short$/);
    expect(line(list, "delay of cavitation, median")).toMatch(/wanted < 180 s measured 120 s ok$/);
    expect(line(list, "delay of ozone-off, median")).toMatch(/not measured$/);
  });

  it("counts the delay of an ozone cell that stays on beyond the minute that it is allowed", () => {
    const faulty = score(
      [fault("01:00-03:00 ozone-while-stopped")],
      told("01:01 raised ozone-while-stopped"),
      1,
    );
    expect(line(wantedFaulty(faulty), "delay of ozone-while-stopped beyond its 60 s, median")).toMatch(
      /measured 0 s ok$/,
    );
  });

  it("is short with one high false alarm in a clean fleet, however many days it has", () => {
    const clean = score([], told("01:00 raised lost-prime"), 1000);
    expect(wantedClean(clean).map(({ ok }) => ok)).toEqual([true, false]);
  });

  it("takes a missed drift for none that was told in time", () => {
    const drift = { unit: "LM-01", alarm: "gas-pressure-drift", startMs: at("01:00") } as const;
    const [first, other] = [
      { ...drift, endMs: at("23:00") },
      { ...drift, unit: "LM-02", endMs: at("23:00") },
    ];
    const events = told("09:00 raised gas-pressure-drift");
    expect(wantedDrift(score([first], events, 2), 3, 4).ok).toBe(true);
    expect(wantedDrift(score([first, other], events, 2), 3, 4)).toMatchObject({
      measured: "1 of 2 missed",
      ok: false,
    });
  });

  it("asks for nine in ten of the slow heat faults, and for nothing where there was none", () => {
    const heat = { faults: 12, neverReached: 2, reached: 10, foretold: 9, leadMedianMs: 60_000 };
    expect(wantedHeat(heat).ok).toBe(true);
    expect(wantedHeat({ ...heat, foretold: 8 }).ok).toBe(false);
    expect(wantedHeat({ ...heat, reached: 0, foretold: 0 }).ok).toBeNull();
  });

  it("holds F1 and false alarm rate of the experiments each against its own bound", () => {
    expect(wantedExperiments({ f1: 0.83, false_alarm_rate: 0.21 }).map(({ ok }) => ok)).toEqual([
      true,
      false,
    ]);
    expect(wantedExperiments({ f1: null, false_alarm_rate: null }).map(({ ok }) => ok)).toEqual([null, null]);
  });
});
