import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { readOnce } from "../collector/read-once.ts";
import { startLive } from "../simulate/live.ts";
import { stageDemo } from "../simulate/stage.ts";
import { print } from "./context.ts";
import { dashboardOn, endedBySignal } from "./dashboard-on.ts";
import { statusLines, viewOf } from "./fleet-status.ts";
import { loadFleet } from "./load-fleet.ts";
import { keepOptions } from "./state-folder.ts";

export interface DemoOptions {
  /** Log time runs this many times faster than the wall clock, so that a newcomer sees faults begin. */
  readonly speed: number;
  readonly debug?: boolean;
}

/**
 * The demonstration: an invented fleet, its recorded day moved to end now, in a temporary folder. On a
 * terminal the dashboard, with readings that go on arriving; otherwise its status once, as text.
 */
export async function demo({ speed, debug = false }: DemoOptions): Promise<number> {
  endInOrder();
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-demonstration-"));
  // However the process ends, but for a SIGKILL.
  const tidy = () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  process.once("exit", tidy);
  try {
    const samples = fileURLToPath(new URL("../../sample-logs", import.meta.url));
    const nowMs = Date.now();
    const staged = await stageDemo({ samples, into: folder, nowMs });
    const { fleet } = await loadFleet(staged.fleetPath);
    const stateFolder = join(folder, "state");
    if (!process.stdout.isTTY || !process.stdin.isTTY) {
      const read = await readOnce(fleet, { clockMs: nowMs, services: fleet.services });
      print("DEMONSTRATION: an invented fleet; no real unit is watched.");
      for (const line of statusLines(viewOf(fleet, read, nowMs, stateFolder))) print(line);
      return 0;
    }
    const clock = { originMs: nowMs, wallMs: Date.now(), speed };
    const live = startLive({ fleetFolder: folder, endMs: nowMs, speed, seed: 1 });
    try {
      return await dashboardOn(
        {
          fleet,
          stateFolder,
          clock,
          demonstration: { speed },
          keep: keepOptions(fleet, stateFolder, "watch"),
        },
        { debug },
      );
    } finally {
      live.stop();
    }
  } finally {
    tidy();
  }
}

/** A signal that nobody else listens for ends the process by `exit`, so that what hangs on that is done. */
function endInOrder(): void {
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) {
    process.on(signal, () => {
      if (process.listenerCount(signal) === 1) process.exit(endedBySignal[signal]);
    });
  }
}
