import { guidance } from "../../src/advise/guidance.ts";
import type { AlarmView, FleetView, UnitView } from "../../src/collector/fleet-view.ts";
import { readFleet } from "../../src/fleet/read.ts";
import type { Fleet } from "../../src/fleet/unit.ts";
import type { Content } from "../../src/notify/content.ts";
import { decide } from "../../src/notify/decide.ts";
import { type Memory, note, remember, startMemory } from "../../src/notify/memory.ts";
import { type Plan, planOf } from "../../src/notify/plan.ts";
import type { Delivery } from "../../src/store/deliveries.ts";

export const minute = 60_000;
export const hour = 60 * minute;
/** 03:12:20 in Chicago on Monday 4 May 2026. */
export const nightMs = Date.UTC(2026, 4, 4, 8, 12, 20);
/** 10:00 the same day there. */
export const dayMs = Date.UTC(2026, 4, 4, 15);

const units = ["LM-01", "LM-02", "LM-03", "LM-04"].map(
  (id) => `{ id: ${id}, site: Heron Bend, consequence: fish }`,
);
const others = ["LM-05", "LM-06"].map((id) => `{ id: ${id}, site: Otter Pool }`);

/** A fleet of four units at Heron Bend, two at Otter Pool and one without a site, with this `notify`. */
export function fleetOf(notify: string): Fleet {
  const text = `fleet: Larkmoor ponds
timezone: America/Chicago
sites: { Heron Bend: { access: gate by the boathouse } }
units: [${[...units, ...others].join(", ")}, { id: LM-07 }]
notify:\n${notify.replace(/^/gm, "  ")}\n`;
  const read = readFleet(text, { path: "fleet.yaml", folder: "/srv/larkmoor" }, {});
  if ("problems" in read) throw new Error(read.problems.join("\n"));
  return read.fleet;
}

export function alarm(
  over: Partial<AlarmView> & { readonly id: string; readonly raisedMs: number },
): AlarmView {
  const name = over.alarm ?? "lost-prime";
  const priority = over.priority ?? "high";
  return {
    alarm: name,
    priority,
    sinceMs: over.raisedMs - 30_000,
    state: "active-unacknowledged",
    by: null,
    message: "discharge pressure has collapsed to 2 kPa while the motor draws 4.1 A",
    evidence: { discharge_pressure: { value: 2.1, unit: "kPa", baseline: 86.4 } },
    guidance: guidance(name, priority, { id: "LM-01", consequence: "fish" } as Fleet["units"][number]),
    ...over,
  };
}

/** Units by id: what is not named runs without an alarm. */
export type Units = Readonly<Record<string, Partial<UnitView>>>;

export function viewOf(fleet: Fleet, over: Units, clockMs: number): FleetView {
  return {
    version: 1,
    fleet: fleet.name,
    timezone: fleet.timezone,
    display: "si",
    clockMs,
    stateFolder: "/var/lib/tarnwatch",
    notices: [],
    units: fleet.units.map(
      ({ id, site = null }): UnitView => ({
        id,
        site,
        state: "running",
        sinceMs: null,
        lastReadingMs: clockMs,
        intervalMs: 10_000,
        baseline: "confirmed",
        baselineNote: null,
        baselineAsks: false,
        readings: [],
        alarms: [],
        setAside: [],
        quiet: [],
        log: { files: [], rows: 1, repeats: 0, late: 0, rejected: 0, newestRejected: [] },
        problem: null,
        problemPriority: "medium",
        ...over[id],
      }),
    ),
  };
}

/** A decider whose messages all come through at once, and that can begin anew from what it recorded. */
export interface Desk {
  memory: Memory;
  readonly plan: Plan;
  /** The new messages at a moment: `way: subject`, oldest first. */
  look(units: Units, nowMs: number, over?: Partial<FleetView>): string[];
  /** Looks every ten seconds from a moment on, for so long. */
  over(units: Units, fromMs: number, forMs: number): string[];
  restart(nowMs: number): void;
  /** Every try, and those that came through. */
  readonly sent: Delivery[];
  readonly passed: Delivery[];
}

export function deskOf(
  notify: string,
  outcomeOf: (delivery: Delivery) => Delivery["outcome"] = () => "delivered",
): Desk {
  const fleet = fleetOf(notify);
  if (fleet.notify === undefined) throw new Error("no notify");
  const plan = planOf(fleet, fleet.notify);
  const desk: Desk = {
    memory: startMemory([], nightMs),
    plan,
    sent: [],
    passed: [],
    look(units, nowMs, over = {}) {
      const { memory } = desk;
      const decision = decide(memory, { ...viewOf(fleet, units, nowMs), ...over }, plan, nowMs);
      note(memory, decision);
      for (const delivery of [...decision.made, ...decision.withdrawn]) remember(memory, delivery);
      const made = [...decision.made, ...decision.due].filter(({ outcome }) => outcome === "waiting");
      for (const delivery of made) {
        const outcome = outcomeOf(delivery);
        remember(memory, { ...delivery, outcome, atMs: nowMs });
        desk.sent.push(delivery);
        if (outcome === "delivered") desk.passed.push(delivery);
      }
      return made.map(({ way, content }) => `${way}: ${(JSON.parse(content) as Content).subject}`);
    },
    over(units, fromMs, forMs) {
      const told: string[] = [];
      for (let at = fromMs; at <= fromMs + forMs; at += 10_000) told.push(...desk.look(units, at));
      return told;
    },
    restart(nowMs) {
      desk.memory = startMemory(JSON.parse(JSON.stringify([...desk.memory.deliveries.values()])), nowMs);
    },
  };
  return desk;
}
