import { join } from "node:path";
import { expect, test } from "vitest";
import { channelIndex } from "../../src/terms/channels.ts";
import { fleetOf, readAlone } from "../support/played.ts";
import { folderWith } from "../support/program.ts";

/**
 * Source: NAMUR NE 43, standardisation of the signal level for the failure information of digital
 * transmitters, read through secondary texts: 3.8 to 20.5 mA is measurement, 4 to 20 mA its range; 3.6 mA
 * and less, 21 mA and more are failure.
 */
test.each<[mA: number, percent: number | null]>([
  [4, 0],
  [8, 25],
  [12, 50],
  [20, 100],
  [3.8, -1.25],
  [20.5, 103.125],
  [3.6, null],
  [3.5, null],
  [0, null],
  [21, null],
  [22.1, null],
])(
  "a loop at %d mA, 4–20 mA for 0 to 400 kPa, reads %d % of 400 kPa; null: failure, no reading",
  async (mA, percent) => {
    const folder = folderWith({
      "logs/LM-01.csv": `when,Amps,Feed\n2026-05-04T00:00:00Z,9.3,${mA}\n2026-05-04T00:00:10Z,9.3,${mA}\n`,
    });
    const yaml =
      "logs: logs\nunits:\n  - id: LM-01\n    columns:\n      time: when\n" +
      "      motor_current: { column: Amps, unit: A }\n" +
      "      gas_pressure: { column: Feed, unit: mA, range: [4, 20], scale: [0, 400] }\n";
    const fleet = fleetOf(yaml, folder);
    const { condition } = (await readAlone({ ...fleet, logs: join(folder, "logs") })).player.state;
    const value = condition.held[channelIndex.gas_pressure];
    if (percent === null) expect(value).toBeNaN();
    else expect(value).toBeCloseTo((percent / 100) * 400, 9);
    expect(condition.held[channelIndex.motor_current]).toBe(9.3);
  },
);
