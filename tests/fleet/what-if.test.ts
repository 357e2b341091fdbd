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
    expect(over("elevation=300", "circuit=20 A", "wire=12")).toEqual({
      elevation: 300,
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
    ["id=LM-02", "'id' is no key of a unit; the nearest is feed"],
  ])("%s is refused in one line", (assignment, problem) => {
    expect(over(assignment)).toContain(problem.slice(0, 40));
    expect(String(over(assignment)).split("\n")).toHaveLength(1);
    expect(String(over(assignment)).startsWith(problem.split(";")[0])).toBe(true);
  });
});

test("what is tried lies over every unit, and the file's other keys stay", () => {
  const text =
    "units:\n  - { id: LM-01, piping: { suction_lift: 4 ft, check_valve: true } }\n  - { id: LM-02 }\n";
  const read = readFleet(text, { path: "fleet.yaml", folder: "/" }, ruleSettings, over("suction_lift=2m"));
  const piping = "fleet" in read ? read.fleet.units.map((unit) => unit.piping) : [];
  expect(piping).toMatchObject([{ suctionLiftM: 2, checkValve: true }, { suctionLiftM: 2 }]);
});
