import { join } from "node:path";
import { afterEach, expect, vi } from "vitest";
import { type Collector, startCollector } from "../../src/collector/collector.ts";
import type { UnitView } from "../../src/collector/fleet-view.ts";
import { fleetFile } from "./fleets.ts";
import { fleetOf } from "./played.ts";
import { folderWith } from "./program.ts";

const running: Collector[] = [];
afterEach(async () => {
  for (const collector of running.splice(0)) await collector.close();
});

/** A fleet that is being followed in a folder of its own. */
export interface Followed {
  readonly collector: Collector;
  /** Path of a unit's log. */
  log(id: string): string;
  unit(id: string): UnitView;
  /** Puts the clock that the fleet is followed by to another time, where it stands still. */
  setClock(at: string): void;
  /** Settles once the view meets the assertions in `met`. */
  until(met: () => void): Promise<void>;
}

/** Follows units (`yaml` in flow style) with these logs by a clock that stands still at `at`. */
export async function followFleet(
  units: readonly { readonly id: string; readonly more?: string; readonly text: string }[],
  at: string,
  top = "",
): Promise<Followed> {
  const folder = folderWith(Object.fromEntries(units.map(({ id, text }) => [`logs/${id}.csv`, text])));
  const fleet = fleetOf(
    fleetFile(
      units.map(({ id, more = "" }) => `{ id: ${id}${more} }`),
      top,
    ),
    folder,
  );
  const clock = { originMs: Date.parse(at), wallMs: 0, speed: 0 };
  const collector = await startCollector(
    {
      fleet: { ...fleet, logs: join(folder, "logs") },
      stateFolder: join(folder, "state"),
      clock,
    },
    { onChange: () => undefined },
    { evenMs: () => clock.originMs },
  );
  running.push(collector);
  const until = (met: () => void) => vi.waitFor(met, { timeout: 30_000, interval: 20 });
  await until(() => expect(collector.view().catchingUp).toBeUndefined());
  return {
    collector,
    log: (id) => join(folder, "logs", `${id}.csv`),
    unit: (id) => {
      const view = collector.view().units.find((unit) => unit.id === id);
      if (view === undefined) throw new Error(`${id} is not in the view`);
      return view;
    },
    setClock: (now) => {
      clock.originMs = Date.parse(now);
    },
    until,
  };
}
