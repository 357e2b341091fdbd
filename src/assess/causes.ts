import { type AlarmName, alarmNames } from "../terms/alarms.ts";

/**
 * Gas is pressed into the water: it falls with the water's pressure, and a regulated one is left with less over a
 * pressure that has risen.
 */
const gasHangsOnWater = ["gas-supply-low"] as const;

/** What tells more of a pump, its motor, its gas or its instruments than that its running is unusual. */
const explaining: readonly AlarmName[] = [
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
  "sensor-fault",
];

/**
 * Which alarms an alarm brings with it, but for `unusual-running`, which all of `explaining` do. Static and acyclic: while a cause is active its consequences are
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
    ...gasHangsOnWater,
  ],
  "failed-to-prime": ["overheating"],
  /** Vapour in the eye lowers the head, as a fouled impeller does; what starves it so far is a restriction. */
  cavitation: ["suction-restricted", "suction-air", "impeller-fouled", ...gasHangsOnWater],
  /** What is shut lets no water up to prime the pump with. */
  "suction-restricted": ["failed-to-prime", "impeller-fouled", ...gasHangsOnWater],
  "suction-air": ["impeller-fouled", ...gasHangsOnWater],
  "discharge-restricted": gasHangsOnWater,
  "discharge-open": ["cavitation", "impeller-fouled", ...gasHangsOnWater],
  "impeller-fouled": gasHangsOnWater,
  overcurrent: ["overheating"],
  /** Its protector trips at each start. */
  "locked-rotor": ["overheating", "not-running", "short-cycling"],
  "short-cycling": ["not-running"],
  /** A feed that fails takes pressure and flow of the gas with it. */
  "gas-backflow-risk": ["gas-supply-low", "gas-pressure-drift"],
  "gas-supply-low": ["gas-pressure-drift"],
  /** Readings with wrong times come and are not judged. */
  "clock-fault": ["readings-stale"],
};

/** Never suppressed, neither by a cause nor by a service. */
export function alwaysTold(alarm: AlarmName): boolean {
  return alarm.startsWith("ozone-") || alarm === "overcurrent" || alarm === "locked-rotor";
}

/** The possible causes of an alarm. */
export function causesOf(alarm: AlarmName): readonly AlarmName[] {
  const causes: AlarmName[] = alarm === "unusual-running" ? [...explaining] : [];
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
