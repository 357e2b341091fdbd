import { describe, expect, test } from "vitest";
import { prepare } from "../../src/dashboard/saying/actions.ts";
import { nightMs } from "./fixture.ts";
import { keptFleet } from "./people.ts";

const view = keptFleet();
const [, , shown] = view.units;
const ann = { by: "Ann", atMs: nightMs - 120_000 };
const unit = {
  ...shown,
  alarms: shown.alarms.map((one) =>
    one.alarm === "ozone-off" ? { ...one, state: "active-acknowledged" as const, acknowledged: ann } : one,
  ),
  setAside: [{ alarm: "sensor-fault" as const, state: "out-of-service" as const, ...ann }],
  begun: (["inspection", "repair"] as const).map((work) => ({
    unit: shown.id,
    work,
    step: "begin" as const,
    atMs: ann.atMs,
    by: work === "inspection" ? "Ann" : "Ben",
  })),
};
const said = (text: string, at = unit) => prepare(text, { view, unit: at, by: "Ben" });

describe("a line that cannot be said tells what to write instead", () => {
  test.each([
    ["", "write what you have to say, or Esc leaves"],
    ["silence all", "'silence' is no action; delete it, and the list shows what may stand here"],
    ["acknowlege all", "'acknowlege' is no action; write acknowledge"],
    ["shelve dry 2h", "'dry' is no alarm; delete it, and the list shows what may stand here"],
    ["shelve", "which alarm? write its name, or all: shelve lost-prime 2h"],
    ["shelve overheatin 2h", "'overheatin' is no alarm; write overheating"],
    ["shelve overheating", "a shelving has an end; write how long: shelve overheating 2h"],
    ["shelve overheating 2", "'2' is not a length of time; write 2 h or 2 min"],
    ["shelve overheating 2m", "'2m' is not a length of time; write 2h or 30 min"],
    ["shelve overheating 0h", "'0h' is not a length of time; write 2h or 30 min"],
    ["shelve overheating 8 d", "a shelving lasts 7 d at most; for longer write out-of-service overheating"],
    ["unshelve sensor-fault", "LM-03: Sensor fault is not shelved; what is: nothing"],
    ["return-to-service ozone-off", "LM-03: Ozone off is not out of service; what is: sensor-fault"],
    ["out-of-service sensor-fault", "LM-03: Sensor fault is out of service already, by Ann since 03:10"],
    ["acknowledge ozone-off", "LM-03: Ozone off was acknowledged by Ann at 03:10"],
    ["acknowledge cavitation", "no cavitation waits at LM-03; waiting: lost-prime"],
    ["note ozone-off", "a note says something; write note ozone-off the pond is low"],
    ["begin painting", "'painting' is no kind of service; delete it, and the list shows what may stand here"],
    ["begin cleanig", "'cleanig' is no kind of service; write cleaning"],
    ["begin cleaning 15 d", "a service lasts 14 d at most"],
    ["begin cleaning 2 bolts", "'2' is not a length of time; write 2 h or 2 min"],
    [
      "begin inspection 2h",
      "LM-03: inspection is begun already, by Ann since 03:10; write end inspection once it is over",
    ],
    [
      "end cleaning",
      "LM-03: no cleaning is begun (begun: inspection, repair); for one that is over write done cleaning",
    ],
    ["done inspection 14:30", "that time lies ahead; a stop that is meant is planned: write plan"],
    ["plan", "a stop is planned from, until and why; write plan 14:30 18:00 pond drained"],
    ["plan 25:00 26:00 x", "'25:00' is not a time; write 14:30, or 2026-05-04 14:30"],
    ["plan 14:30 soon", "until when? write a time or a length: plan 14:30 18:00 pond drained"],
    [
      "plan 22:00 06:00 x",
      "that end is not after the begin; write its day too: 2026-05-04 06:00, or a length",
    ],
    [
      "plan 02:00 06:00 x",
      "that begin is over; write now, or a time to come: with its day where it is not today",
    ],
    ["plan now 2h", "say what the stop is for; write plan 14:30 18:00 pond drained"],
    ["baseline yes", "is the baseline right? write baseline confirm, or baseline relearn"],
  ])("'%s'", (text, problem) => {
    expect(said(text)).toEqual({ problem });
  });

  test("where a unit has no baseline to confirm", () => {
    expect(said("baseline confirm", { ...unit, baseline: null })).toMatchObject({
      problem: "LM-03: there is no baseline to confirm yet; it is learned from the first steady running",
    });
  });

  test("where nothing waits, or a unit has no site", () => {
    const quiet = { ...unit, alarms: [], site: null };
    expect(said("acknowledge all", quiet)).toEqual({ problem: "LM-03: nothing waits to be acknowledged" });
    expect(said("acknowledge site", quiet)).toMatchObject({
      problem: "LM-03 has no site in the fleet file; write acknowledge all",
    });
  });
});

/** What silences more than a lesser alarm that stands, and what cannot be taken back. */
test.each([
  ["acknowledge all", false],
  ["acknowledge lost-prime", false],
  ["acknowledge site", true],
  ["shelve lost-prime 2h", true],
  ["shelve ozone-off 2h", false],
  ["shelve cavitation 2h", true],
  ["shelve all 2h", true],
  ["out-of-service ozone-off", true],
  ["out-of-service all", true],
  ["return-to-service all", false],
  ["begin cleaning", true],
  ["begin repair 4h", true],
  ["end repair", false],
  ["done cleaning", true],
  ["plan now 2h pond drained", true],
  ["baseline confirm", true],
  ["note all pond is low", false],
])("'%s' asks to be confirmed: %s", (text, asks) => {
  const prepared = said(text);
  expect("problem" in prepared ? prepared.problem : prepared.asks !== null).toBe(asks);
});

test("a length, a clock time and a day are read as they are said", () => {
  const recordOf = (text: string) => {
    const prepared = said(text);
    const [first] = "problem" in prepared ? [] : prepared.said(nightMs);
    return first?.kind === "service" ? first.record : undefined;
  };
  const untilMs = Date.UTC(2026, 4, 4, 11);
  expect(recordOf("plan 05:00 06:00 x")).toMatchObject({ atMs: untilMs - 3_600_000, untilMs });
  expect(recordOf("plan 05:00 1h x")).toMatchObject({ untilMs });
  expect(recordOf("plan 05:00 1 h x")).toMatchObject({ untilMs, note: "x" });
  expect(recordOf("plan 2026-05-04 05:00 2026-05-04T11:00:00Z x")).toMatchObject({ untilMs, note: "x" });
  expect(recordOf("plan now 06:00 x")).toMatchObject({ atMs: nightMs, untilMs });
});

test("a begun work is over by saying that it was done since, and end alone ends the only one", () => {
  const stepOf = (text: string, at = unit) => {
    const prepared = said(text, at);
    const [first] = "problem" in prepared ? [] : prepared.said(nightMs);
    return first?.kind === "service" ? `${first.record.step} ${first.record.work}` : prepared;
  };
  expect(stepOf("done repair")).toBe("end repair");
  expect(stepOf("done repair 03:00")).toBe("done repair");
  expect(stepOf("done cleaning")).toBe("done cleaning");
  expect(stepOf("end")).toHaveProperty("problem");
  expect(stepOf("end", { ...unit, begun: unit.begun.slice(1) })).toBe("end repair");
});
