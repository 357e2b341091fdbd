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
    expect(
      impossible({ discharge_depth: "14 ft", water: "{ coldest: 2 degC, warmest: 27 degC, falls: 4 m }" }),
    ).toEqual([expect.stringMatching(/ends above it: lengthen it/)]);
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

describe("what passes only by what was taken for granted", () => {
  const water = "{ coldest: 2 degC, warmest: 27 degC }";
  /** 16 ft of lift: NPSH has its margin at sea level, 0.3 m too little at 2500 m. */
  const high = {
    piping: but(known.piping, "suction_lift: 4 ft", "suction_lift: 16 ft").replace("15 ft", "20 ft"),
  };

  it("cannot be judged, and asks for the elevation where thinner air would turn it", () => {
    expect(lineOf(knownBut(high), "NPSH available").verdict).toBe("pass");
    expect(lineOf(knownBut({ ...high, elevation: "2500 m" }), "NPSH available").verdict).not.toBe("pass");
    const line = lineOf(knownBut({ ...high, elevation: "" }), "NPSH available");
    expect(line).toMatchObject({ verdict: "unknown", enter: ["elevation"] });
    expect(line.note).toBe("Enter elevation: it would not pass at an elevation of 2500 m.");
    expect(line.value?.value).toBeGreaterThan(0);
  });

  it("asks for the fall of the water where the outlet, or the need of a check valve, hangs on it", () => {
    const report = knownBut({ water });
    expect(lineOf(report, "outlet depth")).toMatchObject({ verdict: "unknown", enter: ["water.falls"] });
    // 4 ft and 1 m are more than the 6 ft that need a check valve.
    expect(lineOf(report, "check valve")).toMatchObject({ verdict: "unknown", enter: ["water.falls"] });
  });

  it("passes where the worst would pass as well", () => {
    const flooded = {
      piping: but(known.piping, "suction_lift: 4 ft", "suction_lift: -6 ft"),
      discharge_depth: "9 ft",
    };
    const report = knownBut({ ...flooded, water, elevation: "" });
    for (const check of ["suction lift", "check valve", "NPSH available", "outlet depth"])
      expect(lineOf(report, check).verdict, check).toBe("pass");
  });
});

describe("from what cannot be nothing is expected", () => {
  const expected = (keys: Readonly<Record<string, string>>) => {
    const report = knownBut({ commissioning: "", ...keys });
    expect(report.verdict).toBe("fail");
    expect(lineOf(report, "motor current").limit).not.toBeNull();
    return ["vacuum", "discharge pressure"].map((check) => lineOf(report, check).limit?.text ?? null);
  };

  it.each<[string, Readonly<Record<string, string>>]>([
    [
      "a lift that no air carries",
      { piping: but(known.piping, "suction_lift: 4 ft", "suction_lift: 40 ft").replace("15 ft", "60 ft") },
    ],
    [
      "a pipe that does not reach the water",
      { piping: but(known.piping, "suction_length: 15 ft", "suction_length: 3 ft") },
    ],
  ])("%s: neither a vacuum nor a pressure", (_, keys) => {
    expect(expected(keys)).toEqual([null, null]);
  });

  it.each<[string, Readonly<Record<string, string>>]>([
    ["a rated head over the shutoff head", { pump: but(known.pump, "rated_head: 11 m", "rated_head: 16 m") }],
    [
      "an outlet in the air",
      { discharge_depth: "0.5 ft", water: "{ coldest: 2 degC, warmest: 27 degC, falls: 1 ft }" },
    ],
  ])("%s: no pressure, and the vacuum as before", (_, keys) => {
    const [vacuum, pressure] = expected(keys);
    expect(vacuum).toMatch(/kPa/);
    expect(pressure).toBeNull();
  });

  it("an outlet that falls dry is told, and that its height comes on top of the friction", () => {
    const water = "{ coldest: 2 degC, warmest: 27 degC, falls: 1 ft }";
    expect(impossible({ discharge_depth: "0.5 ft", water })).toEqual([
      expect.stringMatching(
        /^At the lowest water the outlet stands 0.2 m in the air: .* net static head is not zero/,
      ),
    ]);
    expect(impossible({ discharge_depth: "1 ft", water })).toEqual([]);
  });
});
