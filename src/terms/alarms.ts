/** Every alarm, in the order in which events of one instant are written. */
export const alarmNames = [
  "lost-prime",
  "failed-to-prime",
  "cavitation",
  "suction-restricted",
  "suction-air",
  "discharge-restricted",
  "discharge-open",
  "impeller-fouled",
  "overheating",
  "overcurrent",
  "locked-rotor",
  "not-running",
  "short-cycling",
  "gas-pressure-drift",
  "gas-supply-low",
  "gas-backflow-risk",
  "ozone-off",
  "ozone-while-stopped",
  "ozone-without-water",
  "ozone-not-allowed",
  "ozone-in-air",
  "sensor-fault",
  "readings-stale",
  "clock-fault",
  "unusual-running",
  "freeze-risk",
  "service-overdue",
] as const;

export type AlarmName = (typeof alarmNames)[number];

/** Place of each alarm in `alarmNames`. */
export const alarmOrder = Object.fromEntries(alarmNames.map((a, i) => [a, i])) as Readonly<
  Record<AlarmName, number>
>;

/** Most urgent first. A prompt is planned work: it never counts for exit status or `worst`. */
export const priorities = ["high", "medium", "low", "prompt"] as const;
export type Priority = (typeof priorities)[number];

/** What is counted as an alarm: a prompt is planned work. */
export const countedPriorities = ["high", "medium", "low"] as const satisfies readonly Priority[];
export type Counted = (typeof countedPriorities)[number];

/** Negative where `a` is more urgent than `b`. */
export function comparePriority(a: Priority, b: Priority): number {
  return priorities.indexOf(a) - priorities.indexOf(b);
}
