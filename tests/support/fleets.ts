import { but, clean, hourClean, type Stretch, type Values } from "./unit-days.ts";

export const stopped: Values = {
  motor_current: 0,
  motor_temperature: 45,
  suction_pressure: -1,
  discharge_pressure: 0,
  gas_pressure: 0,
  ozone: 0,
};

/** Prime lost: pressure gone, the motor unloaded; the interlock has switched the ozone off. */
export const dry: Values = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 };

/** 00:00–01:20 UTC on 4 May 2026: an hour clean, prime lost from 01:00 to 01:10, clean again. */
export const primeLostAndFound: readonly Stretch[] = [
  hourClean,
  { seconds: 600, values: but(dry) },
  { seconds: 600, values: clean },
];

/** 00:00–01:10: an hour clean, and prime lost to the end. */
export const primeLost: readonly Stretch[] = [hourClean, { seconds: 600, values: but(dry) }];

/** 00:00–01:10 clean throughout. */
export const quietDay: readonly Stretch[] = [hourClean, { seconds: 600, values: clean }];

/** 00:00–01:10: clean, and a fitted ozone cell off from 01:00 on. */
export const ozoneLost: readonly Stretch[] = [hourClean, { seconds: 600, values: but({ ozone: 0 }) }];

/** A fleet file over `logs/` with these units in flow style. */
export function fleetFile(units: readonly string[], top = ""): string {
  return `fleet: Test ponds\nlogs: logs\n${top}units:\n${units.map((unit) => `  - ${unit}\n`).join("")}`;
}
