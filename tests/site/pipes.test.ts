import { describe, expect, it, test } from "vitest";
import { but, known, knownBut, lineOf } from "../support/sites.ts";

const footM = 0.3048;
const value = (report: ReturnType<typeof knownBut>, check: string) =>
  lineOf(report, check).value?.value ?? Number.NaN;

describe("from the pond and back to it", () => {
  it("the static head is 0: neither lift nor the outlet's depth changes the flow or the total dynamic head", () => {
    const shallow = knownBut({ discharge_depth: "3 ft" });
    const deep = knownBut({ discharge_depth: "12 ft" });
    const high = knownBut({ piping: but(known.piping, "suction_lift: 4 ft", "suction_lift: 6 ft") });
    for (const check of ["flow", "total dynamic head"]) {
      expect(value(deep, check)).toBe(value(shallow, check));
      expect(value(high, check)).toBe(value(shallow, check));
    }
  });

  it("the total dynamic head is what pipes and generator take at that flow", () => {
    const report = knownBut();
    const flow = value(report, "flow");
    const generator = (98 / 9.79) * (flow / 75) ** 2;
    const pipes = value(report, "suction friction") + value(report, "discharge friction");
    expect(value(report, "total dynamic head")).toBeCloseTo(generator + pipes, 1);
  });

  it("the head says by what it is reckoned: by pipe formulas, as rated, or from two gauges", () => {
    const said = (keys: Readonly<Record<string, string>>) =>
      lineOf(knownBut(keys), "total dynamic head").note;
    expect(said({})).toMatch(/Static is 0: .*Darcy-Weisbach with Swamee-Jain, fittings by Crane TP-410/);
    expect(said({ generator: "" })).toMatch(/^Taken as rated/);
    expect(said({ generator: "", pump: but(known.pump, "rated_head: 11 m, ", "") })).toMatch(
      /^From the gauges/,
    );
  });

  it("a generator that asks for more gives less water, and the pump is told to work far back on its curve", () => {
    const line = lineOf(knownBut({ generator: "{ flow: 75 L/min, pressure: 260 kPa }" }), "flow");
    expect(line).toMatchObject({ verdict: "caution", sense: "at least" });
    expect(line.limit?.value).toBeCloseTo(0.7 * 75, 9);
  });
});

describe("the pump's curve", () => {
  const easy = { generator: "{ flow: 75 L/min, pressure: 20 kPa }" };

  it("past 120 % of the rated flow is a caution", () => {
    const line = lineOf(knownBut(easy), "flow");
    expect(line).toMatchObject({ verdict: "caution", sense: "at most" });
    expect(line.limit?.value).toBeCloseTo(90, 9);
    const less = lineOf(knownBut({ generator: "{ flow: 75 L/min, pressure: 80 kPa }" }), "flow");
    expect(less).toMatchObject({ verdict: "pass" });
  });

  it("is a parabola for a radial impeller and a line for a regenerative one, from 15 m through 11 m at 75 L/min", () => {
    const radial = knownBut(easy);
    const share = value(radial, "flow") / 75;
    expect(value(radial, "total dynamic head")).toBeCloseTo(15 - 4 * share ** 2, 6);
    const regenerative = knownBut({
      ...easy,
      pump: but(known.pump, "motor_load", "type: regenerative, motor_load"),
    });
    expect(value(regenerative, "total dynamic head")).toBeCloseTo(
      15 - (4 * value(regenerative, "flow")) / 75,
      6,
    );
  });
});

test("water moves at 5 ft/s at most in a suction and at 8 ft/s in a discharge (common practice)", () => {
  const at = (gpm: number) => knownBut({ generator: "", commissioning: `{ flow: ${gpm} gpm }` });
  const verdicts = (gpm: number) =>
    ["suction velocity", "discharge velocity"].map((check) => lineOf(at(gpm), check).verdict);
  // v [ft/s] = 0.4085 q/d²: 5 ft/s are 31.7 gpm, 8 ft/s 50.8 gpm in a bore of 1.61 in.
  expect(verdicts(31.6)).toEqual(["pass", "pass"]);
  expect(verdicts(31.9)).toEqual(["caution", "pass"]);
  expect(verdicts(50.6)).toEqual(["caution", "pass"]);
  expect(verdicts(50.9)).toEqual(["caution", "caution"]);
});

/**
 * Illinois Administrative Code, Title 77, Part 906, Appendix A, Exhibit I: 30 gpm lose 5.22 ft in 100 ft of 1-1/2 in
 * plastic pipe. To it come the entrance and the exit, a half and one velocity head: 0.347 ft each (0.1059 m; computed).
 */
test("30 gpm through 100 ft of 1-1/2 in plastic pipe lose 5.22 ft and their velocity heads, within 4 %", () => {
  const pipe =
    "suction_lift: 4 ft, suction_length: 100 ft, discharge_length: 100 ft, inside_diameter: 1.61 in";
  const report = knownBut({
    piping: `{ ${pipe}, suction_fittings: {}, discharge_fittings: {} }`,
    generator: "",
    commissioning: "{ flow: 30 gpm }",
    water: "{ coldest: 20 degC, warmest: 20 degC }",
  });
  const velocityHeadFt = 0.1059 / footM;
  const suction = value(report, "suction friction") / footM / (5.22 + 0.5 * velocityHeadFt);
  expect(Math.abs(suction - 1)).toBeLessThan(0.04);
  const discharge = value(report, "discharge friction") / footM / (5.22 + velocityHeadFt);
  expect(Math.abs(discharge - 1)).toBeLessThan(0.04);
  expect(value(report, "suction velocity") / footM).toBeCloseTo(4.728, 2);
});

test("a pipe's entrance takes half a velocity head and its exit one: 0.1059 m at 30 gpm in 1.61 in (computed)", () => {
  const lengths = "suction_lift: 0 m, suction_length: 1 mm, discharge_length: 1 mm, inside_diameter: 1.61 in";
  const report = knownBut({
    piping: `{ ${lengths}, suction_fittings: {}, discharge_fittings: {} }`,
    generator: "",
    commissioning: "{ flow: 30 gpm }",
  });
  expect(value(report, "suction friction")).toBeCloseTo(0.5 * 0.1059, 3);
  expect(value(report, "discharge friction")).toBeCloseTo(0.1059, 3);
});

describe("runs of pipe (common practice)", () => {
  const runs = (suction: string, discharge: string) =>
    knownBut({
      piping: but(
        but(known.piping, "suction_length: 15 ft", `suction_length: ${suction}`),
        "discharge_length: 18 ft",
        `discharge_length: ${discharge}`,
      ),
    });

  it("pass up to 20 ft each and 40 ft in all, and are a caution beyond, which tells what they take", () => {
    expect(lineOf(runs("20 ft", "20 ft"), "both runs").verdict).toBe("pass");
    const longer = runs("15 ft", "21 ft");
    expect(lineOf(longer, "discharge run").verdict).toBe("caution");
    expect(lineOf(longer, "both runs").verdict).toBe("pass");
    expect(lineOf(runs("20.5 ft", "20 ft"), "both runs").verdict).toBe("caution");
    expect(lineOf(longer, "discharge run").note).toMatch(/It takes .* % of the pump's head: it may stay so/);
  });

  it("are to be shortened where they take more than a tenth of the pump's head", () => {
    expect(lineOf(runs("15 ft", "150 ft"), "discharge run").note).toMatch(/shorten it, or take a wider pipe/);
    expect(lineOf(runs("15 ft", "150 ft"), "discharge friction").verdict).toBe("caution");
  });

  it("of rough pipe take more", () => {
    const steel = knownBut({ piping: but(known.piping, "plastic", "galvanized steel") });
    expect(value(steel, "discharge friction")).toBeGreaterThan(1.1 * value(knownBut(), "discharge friction"));
  });
});

test("an outlet lies at least 3 ft deep at the lowest water (common practice)", () => {
  const depth = (written: string) => lineOf(knownBut({ discharge_depth: written }), "outlet depth").verdict;
  expect(depth("1.22 m")).toBe("pass");
  expect(depth("1.21 m")).toBe("caution");
});
