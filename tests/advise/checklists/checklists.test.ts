import { describe, expect, it } from "vitest";
import { cautions } from "../../../src/advise/cautions.ts";
import { checklistOf } from "../../../src/advise/checklists/checklists.ts";
import { startUpRuns } from "../../../src/advise/checklists/seasons.ts";
import { loadFor } from "../../../src/advise/route/load.ts";
import { day, hour, minute } from "../../../src/terms/time.ts";
import { works } from "../../../src/terms/works.ts";

const texts = (...of: Parameters<typeof checklistOf>) => checklistOf(...of).steps.map(({ text }) => text);

describe("a cleaning", () => {
  it("takes dose, strength, soak and rinses from the maker where the fleet file tells them", () => {
    const cleaner = { name: "X7", doseMl: 40, strength: "1 part in 10", soakMs: 20 * minute, rinses: 5 };
    const { steps } = checklistOf("cleaning", { cleaner });
    expect(steps.filter(({ basis }) => basis === "maker").map(({ text }) => text)).toEqual([
      "Put 40 mL of X7 into the generator (1 part in 10).",
      "Let it stand for 20 min.",
      "Rinse 5 times, until the water is clear.",
    ]);
  });

  it("says what is common practice where the fleet file is silent: 25 mL, 15 min, three rinses", () => {
    const usual = checklistOf("cleaning").steps.filter(({ basis }) => basis === "common practice");
    const told = usual.map(({ text }) => text).join(" ");
    expect(told).toMatch(/about 25 mL.*at least 15 min.*Rinse 3 times/);
  });
});

describe("what can hurt someone", () => {
  it.each(works)("%s: defers to the maker, local code and licensed trades, and has the plug kept", (work) => {
    expect(checklistOf(work).cautions).toContain(cautions.manual);
    expect(checklistOf(work).cautions).toContain(cautions.unplug);
  });

  it.each(works)(
    "%s: has ozone off, pressure relieved, no oil or flame at oxygen, nobody down a vault",
    (work) => {
      const always = [cautions.ozone, cautions.relieve, cautions.oxygenFeed, cautions.vault];
      expect(checklistOf(work).cautions).toEqual(expect.arrayContaining(always));
    },
  );

  it("a unit is only ever started by somebody beside it", () => {
    for (const text of works.flatMap((work) => texts(work))) {
      if (/plug it in|starts/i.test(text)) expect(text).toMatch(/beside it/i);
      expect(text).not.toMatch(/restart|remote/i);
    }
  });

  it("cleaners are not mixed and do not reach the pond", () => {
    expect(checklistOf("cleaning").cautions).toEqual(
      expect.arrayContaining([cautions.neverMix, cautions.gloves, cautions.rinseWater, cautions.oxygenFeed]),
    );
  });
});

describe("the start-up of a deep pond", () => {
  it("doubles each day from half an hour to round the clock, within a week", () => {
    expect(startUpRuns()).toEqual([...[0.5, 1, 2, 4, 8, 16].map((hours) => hours * hour), day]);
    expect(texts("start-up").join(" ")).toContain("day 1: 30 min, day 2: 1 h");
  });
});

describe("what is loaded", () => {
  const cleaner = { name: "X7", doseMl: 40 };

  it("is enough cleaner for all cleanings of the day, and each part once", () => {
    const visits = [
      { service: { cleaner }, works: ["cleaning"], alarms: ["gas-backflow-risk"] },
      { service: { cleaner, parts: ["gasket 3 in"] }, works: ["cleaning"], alarms: ["gas-pressure-drift"] },
      { service: {}, works: ["cleaning"], alarms: [] },
    ] as const;
    const load = loadFor(visits);
    expect(load.slice(0, 2)).toEqual(["X7, 80 mL", "prepared cleaner, 25 mL"]);
    expect(load.filter((line) => line === "gas check valve")).toHaveLength(1);
    expect(load).toEqual(expect.arrayContaining(["gasket 3 in", "gloves and goggles"]));
  });
});
