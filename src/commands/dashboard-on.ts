import type { CollectorOptions } from "../collector/collector.ts";
import { openCollector } from "../collector/open.ts";
import { runDashboard } from "../dashboard/run.tsx";

const endedBySignal = { quit: 0, SIGINT: 130, SIGTERM: 143, SIGHUP: 129 } as const;

/** The dashboard over a collector of its own, until a person or a signal ends it; the exit status. */
export async function dashboardOn(options: CollectorOptions): Promise<number> {
  const collector = await openCollector(options);
  try {
    const ended = await Promise.race([runDashboard(collector), collector.failed]);
    return endedBySignal[ended];
  } finally {
    await collector.close();
  }
}
