import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import type { Line } from "../../src/site/line.ts";
import { but, known, knownBut, lineOf, reportOf } from "../support/sites.ts";

const impossible = (keys: Readonly<Record<string, string>>) =>
  knownBut(keys)
    .lines.filter(({ check }) => check === "impossible")
    .map(({ note }) => note);

test("a skid of which everything is known and right passes line by line, and takes nothing for granted", () => {
  const report = knownBut();
  expect(report.lines.filter(({ verdict }) => verdict !== "pass")).toEqual([]);
  expect(report).toMatchObject({ verdict: "pass", assumed: [] });
});

describe("where something is not written", () => {
  it("nothing fails, and each line names the key to enter", () => {
    const report = reportOf({});
    expect(report.verdict).toBe("unknown");
    for (const { check, verdict, note } of report.lines) {
      expect(verdict, check).toBe("unknown");
      expect(note, check).toMatch(/nter [a-z]+[._][a-z_]+/);
    }
  });

  it.each([
    ["pump", "rated_flow: 75 L/min, ", "flow", "pump.rated_flow"],
    ["pump", "npsh_required: 2.5 m, ", "NPSH available", "pump.npsh_required"],
    ["piping", "suction_lift: 4 ft, ", "suction lift", "piping.suction_lift"],
    ["piping", ", inside_diameter: 1.61 in", "suction friction", "piping.inside_diameter"],
    ["motor", ", voltage: 115 V", "voltage drop", "motor.voltage"],
  ] as const)("%s without '%s': %s asks for %s", (key, gone, check, asked) => {
    const line = lineOf(knownBut({ [key]: but(known[key], gone, "") }), check);
    expect(line.verdict).toBe("unknown");
    expect(line.note).toContain(asked);
  });

  it("what is taken for granted is said, in the units of display", () => {
    const report = reportOf({ piping: "{ suction_lift: 4 ft }" }, "us");
    expect(report.assumed).toContain("water.warmest 86 °F");
    expect(report.assumed).toContain("piping.suction_fittings 2 elbows");
  });
});

describe("what cannot be", () => {
  it("a suction pipe that is shorter than the lift is told", () => {
    const piping = but(known.piping, "suction_length: 15 ft", "suction_length: 3.9 ft");
    expect(impossible({ piping, water: "{ coldest: 2 degC, warmest: 27 degC, falls: 0 m }" })).toEqual([
      expect.stringMatching(/^A suction pipe of 1.2 m does not reach water 1.2 m below the pump/),
    ]);
  });

  it("a lift that the air cannot carry is told: 10.2 m and more at sea level", () => {
    const lift = (metres: number) =>
      impossible({
        piping: but(but(known.piping, "suction_lift: 4 ft", `suction_lift: ${metres} m`), "15 ft", "60 ft"),
        discharge_depth: "0 m",
        water: "{ coldest: 10 degC, warmest: 20 degC }",
      }).filter((note) => note?.startsWith("No pump"));
    // (101.325 − 1.228) kPa / 9.8037 kPa/m = 10.21 m of water at 10 °C.
    expect(lift(10.2)).toEqual([]);
    expect(lift(10.22)).toHaveLength(1);
  });

  it("an outlet out of reach, a suction end above the lowest water, and a rated head above shutoff are told", () => {
    expect(impossible({ discharge_depth: "15 ft" })).toEqual([
      expect.stringMatching(/discharge pipe .* does not reach/),
    ]);
    expect(impossible({ water: "{ coldest: 2 degC, warmest: 27 degC, falls: 4 m }" })).toEqual([
      expect.stringMatching(/ends above it: lengthen it/),
    ]);
    expect(impossible({ pump: but(known.pump, "rated_head: 11 m", "rated_head: 15 m") })).toEqual([
      expect.stringMatching(/rated head .* does not lie below the shutoff head/),
    ]);
    expect(impossible({ water: "{ coldest: 20 degC, warmest: 10 degC }" })).toEqual([
      expect.stringMatching(/coldest water is warmer/),
    ]);
  });

  it("fails the unit, and the rest is still answered", () => {
    const report = knownBut({ pump: but(known.pump, "rated_head: 11 m", "rated_head: 15 m") });
    expect(report.verdict).toBe("fail");
    expect(lineOf(report, "suction friction").value?.value).toBeGreaterThan(0);
    expect(lineOf(report, "circuit load").verdict).toBe("pass");
  });
});

test("whatever is written, every line has a verdict, and no number is without sense", () => {
  const number = (min: number, max: number, unit = "") =>
    fc.double({ min, max, noNaN: true }).map((value) => `${value.toFixed(3)} ${unit}`.trim());
  const some = (keys: Readonly<Record<string, fc.Arbitrary<string>>>) =>
    fc.record(keys, { requiredKeys: [] }).map(
      (written) =>
        `{ ${Object.entries(written)
          .map(([key, value]) => `${key}: ${value}`)
          .join(", ")} }`,
    );
  const keys = fc.record({
    motor: some({ full_load_current: number(0.1, 30, "A"), voltage: number(100, 250, "V") }),
    pump: some({
      shutoff_head: number(0.1, 60, "m"),
      rated_flow: number(0.1, 500, "L/min"),
      rated_head: number(0.1, 60, "m"),
      npsh_required: number(0.1, 12, "m"),
      type: fc.constantFrom("radial", "regenerative"),
    }),
    generator: some({ flow: number(0.1, 500, "L/min"), pressure: number(0, 400, "kPa") }),
    piping: some({
      suction_lift: number(-20, 20, "m"),
      suction_length: number(0, 100, "m"),
      discharge_length: number(0, 100, "m"),
      inside_diameter: number(0.005, 1, "m"),
      check_valve: fc.constantFrom("true", "false"),
    }),
    supply: some({ circuit: number(0.1, 100, "A"), run_length: number(0, 100, "m") }),
    water: some({
      coldest: number(0, 50, "degC"),
      warmest: number(0, 50, "degC"),
      falls: number(0, 20, "m"),
    }),
    elevation: number(-500, 9000, "m"),
  });
  const sound = ({ value, limit }: Line) =>
    [value, limit].every((amount) => amount === null || !`${amount.value}${amount.text}`.includes("NaN"));
  fc.assert(
    fc.property(keys, (written) => {
      const { lines } = reportOf(written);
      expect(lines.filter((line) => !sound(line))).toEqual([]);
      expect(lines.filter(({ note, verdict }) => note === null && verdict !== "pass")).toEqual([]);
    }),
    { numRuns: 100 },
  );
});
