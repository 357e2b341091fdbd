import type { Worker } from "node:worker_threads";
import { historyReader } from "../collector/history-reader.ts";
import type { WorkerStart } from "../collector/messages.ts";
import { NotAnswered, type OpenConsole, openConsole } from "../collector/open.ts";
import { performanceReader } from "../collector/read-performance.ts";
import { type FirstFrame, startFirstFrame } from "../dashboard/first-frame.ts";
import type { DashboardEnd, runDashboard as Run } from "../dashboard/run.tsx";
import type { FleetSource } from "../dashboard/source.ts";
import { counted } from "../terms/text.ts";
import { CannotWork } from "./context.ts";
import { speaker } from "./kept-state.ts";
import { whileWaiting } from "./progress-line.ts";
import { unreadable } from "./unreadable.ts";

/** Exit status by how the program was ended, as a shell counts it. */
export const endedBySignal = { quit: 0, SIGINT: 130, SIGTERM: 143, SIGHUP: 129 } as const;

interface Person {
  readonly debug: boolean;
  /** Who sits there; default the login. */
  readonly by?: string;
}

/**
 * The dashboard over a collector of its own, until a person or a signal ends it; the exit status. Throws
 * `CannotWork` where no unit of the fleet can be read.
 */
export async function dashboardOn(options: WorkerStart, person: Person, ready?: Worker): Promise<number> {
  const frame = startFirstFrame(options.fleet, (how) => process.exit(endedBySignal[how]));
  try {
    // Loads while the collector starts in its thread.
    const dashboard = import("../dashboard/run.tsx");
    const collector = await openConsole(options, ready);
    let how: DashboardEnd | undefined;
    try {
      const { runDashboard } = await dashboard;
      how = await showFleet(collector, options, person, frame, runDashboard);
      return endedBySignal[how];
    } finally {
      const closed = collector.close();
      const read = `what was read of ${counted(options.fleet.units.length, "unit")}`;
      // A terminal that has hung up takes no line.
      await (how === "SIGHUP" ? closed : whileWaiting(`keeping ${read} …`, closed));
    }
  } catch (error) {
    frame.leave();
    throw error instanceof NotAnswered ? new CannotWork(error.message) : error;
  }
}

async function showFleet(
  collector: OpenConsole,
  options: WorkerStart,
  { debug, by }: Person,
  frame: FirstFrame,
  runDashboard: typeof Run,
): Promise<DashboardEnd> {
  const reader = historyReader(options.stateFolder, options.fleet);
  const tellFrame = (): void => frame.tell(collector.current().catchingUp);
  const stop = collector.subscribe(tellFrame);
  try {
    tellFrame();
    const view = await collector.viewWhere(
      ({ catchingUp, units }) =>
        !catchingUp || units.some(({ lastReadingMs, log }) => lastReadingMs !== null || log.rows > 0),
    );
    const nothing = unreadable(view, options.fleet);
    if (nothing.length > 0) throw new CannotWork(...nothing);
    // A collector that dies is an error nobody expected: the dashboard gives the terminal back and says so.
    collector.failed.catch((error: unknown) => setImmediate(() => fail(error)));
    const source: FleetSource = {
      ...collector,
      alarmHistory: reader.read,
      performance: performanceReader(options.stateFolder),
    };
    stop();
    frame.handOver();
    return await runDashboard(source, { debug, by: speaker(by) });
  } finally {
    stop();
    reader.close();
  }
}

function fail(error: unknown): never {
  throw error;
}
