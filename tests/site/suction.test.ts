import { describe, expect, it } from "vitest";
import { but, known, knownBut, lineOf } from "../support/sites.ts";

const footM = 0.3048;
const lift = (written: string, rest: readonly [string, string][] = []) =>
  rest.reduce(
    (text, [from, to]) => but(text, from, to),
    but(known.piping, "suction_lift: 4 ft", `suction_lift: ${written}`),
  );

describe("a check valve", () => {
  it("is not needed up to 6 ft of lift, and is needed beyond (common practice)", () => {
    const water = "{ coldest: 2 degC, warmest: 27 degC, falls: 0 m }";
    expect(lineOf(knownBut({ piping: lift("6 ft"), water }), "check valve").verdict).toBe("pass");
    const line = lineOf(knownBut({ piping: lift("73 in"), water }), "check valve");
    expect(line).toMatchObject({ verdict: "fail", source: "common practice" });
    expect(line.note).toMatch(/fit a check valve or a foot valve/);
  });

  it("that is fitted does, and so does a foot valve among the fittings", () => {
    const valve = lift("9 ft", [["check_valve: false", "check_valve: true"]]);
    expect(lineOf(knownBut({ piping: valve }), "check valve")).toMatchObject({ verdict: "pass", note: null });
    const foot = lift("9 ft", [
      [", check_valve: false", ""],
      ["suction_fittings: { elbow: 2 }", "suction_fittings: { foot_valve: 1 }"],
    ]);
    expect(lineOf(knownBut({ piping: foot }), "check valve").verdict).toBe("pass");
  });

  it("is needed by the lift from the lowest water", () => {
    const at = (falls: string) =>
      lineOf(
        knownBut({ piping: lift("5 ft"), water: `{ coldest: 2 degC, warmest: 27 degC, falls: ${falls} }` }),
        "check valve",
      );
    expect(at("11 in").verdict).toBe("pass");
    expect(at("13 in").verdict).toBe("fail");
    expect(at("13 in").value?.value).toBeCloseTo(5 * footM + 13 * 0.0254, 9);
  });

  it("is had by any of the valves that are counted, though another is counted as none", () => {
    const withFittings = (fittings: string, valve = "") =>
      knownBut({
        piping: lift("9 ft", [
          [", check_valve: false", valve],
          ["suction_fittings: { elbow: 2 }", `suction_fittings: ${fittings}`],
        ]),
      });
    const verdict = (fittings: string) => lineOf(withFittings(fittings), "check valve").verdict;
    expect(verdict("{ foot_valve: 1, check_valve: 0 }")).toBe("pass");
    expect(verdict("{ hinged_foot_valve: 1, foot_valve: 0 }")).toBe("pass");
    expect(verdict("{ foot_valve: 0, check_valve: 0 }")).toBe("fail");
    expect(verdict("{ elbow: 2 }")).toBe("unknown");
    const friction = (fittings: string) =>
      lineOf(withFittings(fittings, ", check_valve: true"), "suction friction").value?.value;
    expect(friction("{ elbow: 2, foot_valve: 0 }")).toBe(friction("{ elbow: 2, check_valve: 1 }"));
    expect(friction("{ elbow: 2, foot_valve: 1, check_valve: 0 }")).toBe(
      friction("{ elbow: 2, foot_valve: 1 }"),
    );
  });

  it("costs head, as every fitting does", () => {
    const without = lineOf(knownBut(), "suction friction").value?.value ?? Number.NaN;
    const valve = but(known.piping, "check_valve: false", "check_valve: true");
    expect(lineOf(knownBut({ piping: valve }), "suction friction").value?.value).toBeGreaterThan(
      1.5 * without,
    );
  });
});

describe("a suction lift", () => {
  it("of 25 ft is the most at sea level, and less in thin air (common practice)", () => {
    const long = [["suction_length: 15 ft", "suction_length: 30 ft"]] as const;
    const water = "{ coldest: 2 degC, warmest: 27 degC, falls: 0 m }";
    const at = (written: string, elevation: string) =>
      lineOf(knownBut({ piping: lift(written, [[...long[0]]]), water, elevation }), "suction lift").verdict;
    expect(at("24.9 ft", "0 m")).toBe("pass");
    expect(at("25.1 ft", "0 m")).toBe("fail");
    // 79.50 kPa at 2000 m (U.S. Standard Atmosphere 1976): 25 ft × 79.5/101.325 = 19.6 ft.
    expect(at("19.5 ft", "2000 m")).toBe("pass");
    expect(at("19.8 ft", "2000 m")).toBe("fail");
  });

  it("counts from the lowest water", () => {
    expect(lineOf(knownBut(), "suction lift").value?.value).toBeCloseTo(4 * footM + 0.3, 9);
  });
});

describe("NPSH available", () => {
  // A pipe so wide that nothing is lost: 8.312 m with 0.3 m lost (computed from IAPWS-IF97, Tanaka 2001).
  const wide = lift("1.5 m", [["inside_diameter: 1.61 in", "inside_diameter: 1 m"]]);

  it("is 8.612 m at sea level, 20 °C and a lift of 1.5 m without friction", () => {
    const water = "{ coldest: 20 degC, warmest: 20 degC, falls: 0 m }";
    const line = lineOf(knownBut({ piping: wide, water }), "NPSH available");
    expect(Math.abs((line.value?.value ?? 0) - 8.612)).toBeLessThan(0.002);
    expect(line.limit?.value).toBeCloseTo(3.1, 9);
  });

  it("says its formula with the source, and over which waters and levels it goes", () => {
    expect(lineOf(knownBut(), "NPSH available").note).toMatch(
      /^Air less vapour pressure .* \(DOE-HDBK-1018\/1\): .* over the year, water at 2 °C to 27 °C, the level 0.3 m down to 0 m up/,
    );
  });

  it("is that of the warmest water at the lowest level", () => {
    const at = (water: string) =>
      lineOf(knownBut({ piping: wide, water }), "NPSH available").value?.value ?? 0;
    const cold = at("{ coldest: 10 degC, warmest: 10 degC, falls: 0 m }");
    const year = at("{ coldest: 10 degC, warmest: 30 degC, falls: 1 m }");
    // 9.010 m of 10 °C after 1.2 m, 6.442 m of 30 °C after 3.5 m (computed from IAPWS-IF97, Tanaka 2001).
    expect(cold - year).toBeCloseTo(9.01 + 1.2 - (6.442 + 3.5) + 1, 2);
  });

  it("fails below what the pump requires, and is a caution where only the margin is gone", () => {
    const deep = (metres: number) => {
      const piping = lift(`${metres} m`, [["suction_length: 15 ft", "suction_length: 12 m"]]);
      return lineOf(
        knownBut({ piping, water: "{ coldest: 20 degC, warmest: 20 degC, falls: 0 m }" }),
        "NPSH available",
      );
    };
    const start = deep(2);
    const highest = 2 + (start.value?.value ?? 0) - 3.1;
    expect(deep(highest - 0.01).verdict).toBe("pass");
    expect(deep(highest + 0.01)).toMatchObject({ verdict: "caution" });
    expect(deep(highest + 0.59).verdict).toBe("caution");
    expect(deep(highest + 0.61)).toMatchObject({ verdict: "fail" });
    expect(start.note).toContain(`highest lift ${highest.toFixed(1)} m`);
  });

  it("names the highest lift as the key is written: without what the water falls by", () => {
    const at = (metres: number) => {
      const piping = lift(`${metres} m`, [["suction_length: 15 ft", "suction_length: 12 m"]]);
      return lineOf(
        knownBut({ piping, water: "{ coldest: 2 degC, warmest: 27 degC, falls: 1.5 m }" }),
        "NPSH available",
      );
    };
    const start = at(3);
    // The pump requires 2.5 m, and 0.6 m is the margin of ANSI/HI 9.6.1 below 7500 (from memory).
    const highest = 3 + (start.value?.value ?? 0) - 3.1;
    expect(start.note).toContain(`highest lift ${Number(highest.toFixed(1))} m`);
    expect(at(highest - 0.01).verdict).toBe("pass");
    expect(at(highest + 0.01).verdict).toBe("caution");
  });

  it("says how far the water may fall, and fails when it falls further", () => {
    const fall = (metres: number) => {
      const water = `{ coldest: 20 degC, warmest: 20 degC, falls: ${metres} m }`;
      const piping = lift("4 ft", [["suction_length: 15 ft", "suction_length: 12 m"]]);
      return lineOf(knownBut({ piping, water }), "water falls by");
    };
    const most = fall(0).limit?.value ?? 0;
    expect(fall(most - 0.01).verdict).toBe("pass");
    expect(fall(most + 0.01).verdict).toBe("caution");
    expect(fall(2).limit?.value).toBeCloseTo(most, 6);
  });
});

describe("priming", () => {
  it("takes as long as from a lift to the lowest water", () => {
    const minutes = (written: string, falls: string) =>
      lineOf(
        knownBut({
          piping: lift(written),
          water: `{ coldest: 2 degC, warmest: 27 degC, falls: ${falls} }`,
        }),
        "priming time",
      ).value?.value;
    expect(minutes("1 m", "1.5 m")).toBeCloseTo(minutes("2.5 m", "0 m") ?? Number.NaN, 9);
    expect(minutes("1 m", "1.5 m")).toBeGreaterThan(minutes("1 m", "0 m") ?? Number.NaN);
  });

  it("may take 5 min: with the air that the maker states longer fails, with air that is taken for granted it is a caution", () => {
    const slow = but(known.pump, "air_handling: 20 L/min", "air_handling: 1 L/min");
    expect(lineOf(knownBut(), "priming time").verdict).toBe("pass");
    expect(lineOf(knownBut({ pump: slow }), "priming time").verdict).toBe("fail");
    const unsaid = but(known.pump, ", air_handling: 20 L/min", "");
    const long = but(known.piping, "suction_length: 15 ft", "suction_length: 200 ft");
    const line = lineOf(knownBut({ pump: unsaid, piping: long }), "priming time");
    expect(line.verdict).toBe("caution");
    expect(line.note).toMatch(/enter pump\.air_handling/);
  });
});
