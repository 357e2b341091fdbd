import type { Upkeep } from "../../fleet/unit.ts";
import type { AlarmName } from "../../terms/alarms.ts";
import type { Work } from "../../terms/works.ts";
import { checklistOf } from "../checklists/checklists.ts";
import { usualDoseMl } from "../checklists/cleaning.ts";

/** What an alarm's likely causes ask to have in the van. */
const forAlarm: Partial<Readonly<Record<AlarmName, readonly string[]>>> = {
  "lost-prime": ["foot valve or check valve", "shaft seal", "O-rings and thread tape"],
  "failed-to-prime": ["foot valve or check valve", "O-rings and thread tape"],
  cavitation: ["suction strainer basket and gasket"],
  "suction-restricted": ["suction strainer basket and gasket"],
  "suction-air": ["O-rings and thread tape", "hose clamps"],
  "discharge-open": ["discharge hose and coupling", "hose clamps"],
  "impeller-fouled": ["pump gasket", "cut-proof gloves"],
  "gas-supply-low": ["gas source filter", "gas line and fittings clean of oil"],
  "gas-backflow-risk": ["gas check valve", "gas line and fittings clean of oil"],
  "gas-pressure-drift": ["gas check valve"],
  "ozone-in-air": ["ozone meter"],
  "sensor-fault": ["sensor, cable and connector for the channel named"],
  "readings-stale": ["logger battery, cable and card"],
  "clock-fault": ["logger battery, cable and card"],
};

/** A unit's visit as far as loading hangs on it. */
export interface LoadFor {
  readonly service: Pick<Upkeep, "cleaner" | "parts">;
  readonly works: readonly Work[];
  readonly alarms: readonly AlarmName[];
}

/** What is to be loaded for these visits, each line once, with how much cleaner in all. */
export function loadFor(visits: readonly LoadFor[]): readonly string[] {
  const doses = new Map<string, number>();
  const lines = new Set<string>();
  for (const { service, works, alarms } of visits) {
    const { cleaner, parts = [] } = service;
    for (const work of works) {
      const { load } = checklistOf(work, service);
      // The dose heads a cleaning's load: doses of one cleaner are added up instead.
      for (const line of work === "cleaning" ? load.slice(1) : load) lines.add(line);
      if (work !== "cleaning") continue;
      const name = cleaner?.name ?? "prepared cleaner";
      doses.set(name, (doses.get(name) ?? 0) + (cleaner?.doseMl ?? usualDoseMl));
    }
    for (const part of [...parts, ...alarms.flatMap((alarm) => forAlarm[alarm] ?? [])]) lines.add(part);
  }
  return [...[...doses].map(([name, ml]) => `${name}, ${ml} mL`), ...lines];
}
