import { expect, test } from "vitest";
import { applySetting } from "../../src/fleet/apply-setting.ts";
import { readFleet } from "../../src/fleet/read.ts";
import { ruleSettings } from "./rules.ts";

const text = `
units:
  - { id: LM-01, limits: { lost-prime: { delay: 30 s, unloaded: 60 % } } }
  - id: LM-02
`;
const read = readFleet(text, { path: "fleet.yaml", folder: "/srv" }, ruleSettings);
if ("problems" in read) throw new Error(read.problems.join("\n"));
const { fleet } = read;

test.each<[string, unknown]>([
  ["lost-prime.delay=20s", { delay: "20s" }],
  ["lost-prime.delay = 20 s", { delay: "20 s" }],
  ["lost-prime.delay=0", { delay: 0 }],
  ["lost-prime.unloaded=0.6", { unloaded: 0.6 }],
  ["lost-prime.latched=true", { latched: true }],
])("%s holds at every unit, over what the fleet file says", (assignment, set) => {
  const result = applySetting(fleet, assignment, ruleSettings);
  expect("fleet" in result && result.fleet.units.map((unit) => unit.limits["lost-prime"])).toEqual([
    { delay: "30 s", unloaded: "60 %", ...(set as object) },
    set,
  ]);
  expect(fleet.units[1]?.limits).toEqual({});
});

test.each([
  ["lost-prime", "'lost-prime' is not a setting; write RULE.SETTING=VALUE, such as lost-prime.delay=20s"],
  [
    "lost-prime.delay",
    "'lost-prime.delay' is not a setting; write RULE.SETTING=VALUE, such as lost-prime.delay=20s",
  ],
  ["lost-pime.delay=20s", "'lost-pime' is not an alarm; the nearest is lost-prime"],
  ["__proto__.delay=20s", "'__proto__' is not an alarm; the nearest is ozone-off"],
  ["lost-prime.dely=20s", "'lost-prime.dely=20s': lost-prime has no such setting; the nearest is delay"],
  [
    "lost-prime.__proto__=20s",
    "'lost-prime.__proto__=20s': lost-prime has no such setting; the nearest is priority",
  ],
  ["lost-prime.delay=20m", "'lost-prime.delay=20m': '20m' is not a duration; write 20 min"],
  ["lost-prime.delay=4", "'lost-prime.delay=4': '4' of what? Write 4 s or 4 min"],
  ["lost-prime.delay=", "'lost-prime.delay=': nothing is not a duration; write 10 s"],
])("%s is told in one line", (assignment, problem) => {
  expect(applySetting(fleet, assignment, ruleSettings)).toEqual({ problem });
});
