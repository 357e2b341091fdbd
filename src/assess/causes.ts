import { type AlarmName, alarmNames } from "../terms/alarms.ts";

/**
 * Which alarms an alarm brings with it. Static and acyclic: while a cause is active its consequences are
 * suppressed, and while its delay runs they wait.
 */
export const consequences: Readonly<Partial<Record<AlarmName, readonly AlarmName[]>>> = {
  /** A pump that runs dry loses the water that cools it; while it loses it the gauges waver and fall. */
  "lost-prime": [
    "cavitation",
    "suction-restricted",
    "suction-air",
    "discharge-restricted",
    "impeller-fouled",
    "overheating",
  ],
  "failed-to-prime": ["overheating"],
  /** Vapour in the eye lowers the head, as a fouled impeller does; what starves it so far is a restriction. */
  cavitation: ["suction-restricted", "suction-air", "impeller-fouled"],
  "suction-restricted": ["impeller-fouled"],
  "suction-air": ["impeller-fouled"],
  "discharge-open": ["cavitation", "impeller-fouled"],
};

/** Never suppressed, neither by a cause nor by a service. */
export function alwaysTold(alarm: AlarmName): boolean {
  return alarm.startsWith("ozone-") || alarm === "overcurrent" || alarm === "locked-rotor";
}

/** The possible causes of an alarm. */
export function causesOf(alarm: AlarmName): readonly AlarmName[] {
  const causes: AlarmName[] = [];
  for (const [cause, brought] of Object.entries(consequences)) {
    if (brought.includes(alarm)) causes.push(cause as AlarmName);
  }
  return causes;
}

/** Place of each alarm among the findings of one instant: the order of the alarms, causes moved before consequences. */
export const tellingOrder: Readonly<Record<AlarmName, number>> = orderByCause();

function orderByCause(): Record<AlarmName, number> {
  const order: Partial<Record<AlarmName, number>> = {};
  let next = 0;
  const place = (alarm: AlarmName) => {
    if (order[alarm] !== undefined) return;
    for (const cause of causesOf(alarm)) place(cause);
    order[alarm] ??= next++;
  };
  for (const alarm of alarmNames) place(alarm);
  return order as Record<AlarmName, number>;
}
