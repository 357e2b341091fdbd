import { describe, expect, it, test } from "vitest";
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
