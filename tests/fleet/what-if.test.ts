import { describe, expect, it, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { parseChanges } from "../../src/fleet/what-if.ts";
import { ruleSettings } from "./rules.ts";

const over = (...assignments: string[]) => {
  const changes = parseChanges(assignments, ruleSettings);
  return "over" in changes ? changes.over : changes.problem;
};

describe("a key that is tried", () => {
  it("may be written alone, or after the mapping it stands in", () => {
    expect(over("suction_lift=7ft")).toEqual({ piping: { suction_lift: "7ft" } });
    expect(over("piping.suction_lift = 7 ft")).toEqual({ piping: { suction_lift: "7 ft" } });
    expect(over("elevation=300m", "circuit=20 A", "wire=12")).toEqual({
      elevation: "300m",
      supply: { circuit: "20 A", wire: 12 },
    });
  });

  it("may be true or false, or a mapping", () => {
    expect(over("check_valve=true")).toEqual({ piping: { check_valve: true } });
    expect(over("suction_fittings={ elbow: 3 }")).toEqual({ piping: { suction_fittings: { elbow: 3 } } });
    expect(over("suction_fittings.elbow=3")).toEqual({ piping: { suction_fittings: { elbow: 3 } } });
  });

  it.each([
    ["suction_lift", "'suction_lift' is no key with a value; write KEY=VALUE, such as suction_lift=7ft"],
    ["suction_lft=7ft", "'suction_lft' is no key of a unit; the nearest is suction_lift"],
    [
      "pipng.suction_lift=7ft",
      "'pipng.suction_lift' is no key of a unit; the nearest is piping.suction_lift",
    ],
    ["suction_lift=7 fet", "piping.suction_lift: '7 fet' has the unknown unit 'fet'; write 1.5 m"],
    [
      "elbow=3",
      "'elbow' is a key of several mappings; write piping.suction_fittings.elbow or piping.discharge_fittings.elbow",
    ],
    ["wire=13", "supply.wire: '13 AWG' is not one of 14 AWG, 12 AWG, 10 AWG, 8 AWG, 6 AWG"],
    ["suction_lift=7", "piping.suction_lift: '7' has no unit; write suction_lift=7m or suction_lift=7ft"],
    [
      "piping={ suction_lift: 2m, suction_length: 15 }",
      "piping.suction_length: '15' has no unit; write suction_length=15m or suction_length=15ft",
    ],
    ["overload=10", "supply.overload: '10' has no unit; write overload=10A"],
    ["cleaning_every=30", "service.cleaning_every: '30' has no unit; write cleaning_every=30s or"],
    ["id=LM-02", "'id' is no key of a unit; the nearest is "],
  ])("%s is refused in one line", (assignment, problem) => {
    expect(over(assignment)).toContain(problem.slice(0, 40));
    expect(String(over(assignment)).split("\n")).toHaveLength(1);
    expect(String(over(assignment)).startsWith(problem)).toBe(true);
  });

  it("is told as written and as stored", () => {
    const changes = parseChanges(["suction_lift=7ft", "check_valve=true", "motor_load=84 %"], ruleSettings);
    expect("tried" in changes && changes.tried).toEqual([
      { key: "piping.suction_lift", written: "7ft", stored: "2.134 m" },
      { key: "piping.check_valve", written: "true", stored: null },
      { key: "pump.motor_load", written: "84 %", stored: "84 %" },
    ]);
  });
});

test("what is tried lies over every unit, and the file's other keys stay", () => {
  const text =
    "units:\n  - { id: LM-01, piping: { suction_lift: 4 ft, check_valve: true } }\n  - { id: LM-02 }\n";
  const read = readFleet(text, { path: "fleet.yaml", folder: "/" }, ruleSettings, over("suction_lift=2m"));
  const piping = "fleet" in read ? read.fleet.units.map((unit) => unit.piping) : [];
  expect(piping).toMatchObject([{ suctionLiftM: 2, checkValve: true }, { suctionLiftM: 2 }]);
});
