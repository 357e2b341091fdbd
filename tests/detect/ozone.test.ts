import { describe, expect, it } from "vitest";
import {
  but,
  clean,
  hourClean,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
} from "../support/unit-days.ts";

const unit = unitOf();
const stopped: Values = {
  motor_current: 0,
  motor_temperature: 50,
  suction_pressure: -1,
  discharge_pressure: 0,
  gas_pressure: 0,
  ozone: 0,
};
const off: Stretch = { seconds: 600, values: but({ ozone: 0 }) };

describe("ozone off", () => {
  it("is raised when fitted ozone stays off while water moves", () => {
    expect(told(unit, [hourClean, off])).toEqual(["01:02:00 raised ozone-off"]);
  });

  it("is raised by the cell's own fault", () => {
    expect(told(unit, [hourClean, { seconds: 600, values: but({ ozone: 2 }) }])).toEqual([
      "01:02:00 raised ozone-off",
    ]);
  });

  it("says nothing that goes on beside it while the alarm stands: for how long", () => {
    const [fault] = run(start(unit), {
      kind: "readings",
      batch: readings([hourClean, { seconds: 600, values: but({ ozone: 2 }) }]),
    });
    expect(fault?.message).toMatch(
      /^The ozone cell reported a fault while water moved \(discharge pressure /,
    );
    expect(fault?.evidence).toHaveProperty("ozone_off_for");
  });

  it("waits half an hour before a baseline tells whether the cell cycles", () => {
    expect(
      told(unit, [
        { seconds: 3600, values: (s) => ({ ...clean(s), ozone: 0, discharge_pressure: 12 + s / 40 }) },
      ]),
    ).toEqual(["00:32:10 raised ozone-off"]);
  });

  it("clears when the ozone is on again", () => {
    expect(told(unit, [hourClean, off, { seconds: 300, values: clean }])).toEqual([
      "01:02:00 raised ozone-off",
      "01:10:30 cleared ozone-off",
    ]);
  });

  it.each(["bypassed", "none"])("is quiet where ozone is %s", (ozone) => {
    const without: Stretch = { seconds: 4200, values: but({ ozone: 0 }) };
    expect(told(unitOf(`{ id: LM-01, ozone: ${ozone} }`), [without])).toEqual([]);
  });

  it("is not raised while the pump is stopped, nor while it moves no water", () => {
    expect(told(unit, [hourClean, { seconds: 1800, values: stopped }])).toEqual([]);
    const dry = but({ motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 });
    expect(told(unit, [hourClean, { seconds: 1800, values: dry }])).toEqual(["01:00:30 raised lost-prime"]);
  });

  it("learns a cell that cycles, and is raised when a pause lasts longer than it ever did", () => {
    // 6 min on, 4 min off, as some cells are driven.
    const cycling: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), ozone: s % 600 < 360 ? 1 : 0 }),
    };
    expect(told(unit, [cycling, { ...cycling, seconds: 4 * 3600 }])).toEqual([]);
    // Off since 00:56: 1.5 × the longest pause of 4 min, then the delay of 2 min.
    expect(told(unit, [cycling, { seconds: 1800, values: but({ ozone: 0 }) }])).toEqual([
      "01:04:00 raised ozone-off",
    ]);
  });
});

describe("ozone while stopped", () => {
  const welded: Stretch = { seconds: 600, values: { ...stopped, ozone: 1 } };

  it("is raised 60 s after the motor stopped", () => {
    expect(told(unit, [hourClean, welded])).toEqual(["01:01:00 raised ozone-while-stopped"]);
  });

  it("is not raised by the ozone's short run after the motor", () => {
    const after: Stretch = { seconds: 600, values: (s) => ({ ...stopped, ozone: s < 40 ? 1 : 0 }) };
    expect(told(unit, [hourClean, after])).toEqual([]);
  });

  it("is over once the motor runs, also where the cell's status is missing then", () => {
    const { ozone: _, ...silentCell } = stopped;
    const running: Stretch = { seconds: 600, values: but({ ozone: undefined }) };
    expect(
      told(unit, [
        { seconds: 300, values: { ...stopped, ozone: 1 } },
        { seconds: 60, values: silentCell },
        running,
      ]),
    ).toEqual(["00:01:00 raised ozone-while-stopped", "00:06:30 cleared ozone-while-stopped"]);
  });

  it.each<[string, Values, Values, string]>([
    ["power alone", { power: 850 }, { power: 3 }, "stood still (3 W)"],
    ["the command alone", { run_command: 1 }, { run_command: 0 }, "was not commanded to run"],
  ])("is judged by %s, and says so", (_by, running, standing, words) => {
    const on = { discharge_pressure: 86, ozone: 1 };
    const [finding] = run(start(unit), {
      kind: "readings",
      batch: readings(
        [
          { seconds: 600, values: { ...on, ...running } },
          { seconds: 600, values: { ...on, ...standing, discharge_pressure: 0 } },
        ],
        30,
      ),
    });
    expect(finding?.alarm).toBe("ozone-while-stopped");
    expect(finding?.message).toBe(`The ozone was on although the motor ${words} 90 s after it stopped.`);
    // Three readings outlast the delay of a minute.
    expect(finding?.evidence.motor_stopped_for?.limit).toBe(90);
  });

  it("is not judged without current, power and command", () => {
    const on = { seconds: 3600, values: { discharge_pressure: 0, ozone: 1 } };
    expect(told(unit, [on])).toEqual([]);
  });

  it("is raised at a unit whose ozone should not be there at all", () => {
    const without: Stretch = { seconds: 3600, values: but({ ozone: 0 }) };
    expect(told(unitOf("{ id: LM-01, ozone: bypassed }"), [without, welded])).toEqual([
      "01:00:30 raised ozone-not-allowed",
      "01:01:00 raised ozone-while-stopped",
    ]);
  });
});
