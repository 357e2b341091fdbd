import { readFileSync } from "node:fs";
import { bareFleet } from "../../src/acquire/bare-unit.ts";
import { findLogs } from "../../src/acquire/find.ts";
import type { LogStatus } from "../../src/acquire/log-status.ts";
import { openUnitLog } from "../../src/acquire/unit-log.ts";

/** What reading units' logs through, one after another in a process of its own, came to. */
export interface ReadThrough {
  readonly units: Readonly<
    Record<string, Pick<LogStatus, "rows" | "rejected" | "problem"> & { why: string[] }>
  >;
  /** The most memory that the process ever held. */
  readonly peakMiB: number;
}

/** Since the process began; what the system counts by itself may include the process it was started from. */
function peakMiB(): number {
  try {
    return Number(/VmHWM:\s*(\d+) kB/.exec(readFileSync("/proc/self/status", "utf8"))?.[1]) / 1024;
  } catch {
    return process.resourceUsage().maxRSS / 1024;
  }
}

const [folder = "", ...ids] = process.argv.slice(2);
const bare = bareFleet("log", folder);
const fleet = { ...bare.fleet, units: ids.map((id) => ({ ...bare.unit, id })) };
const { files, problems } = await findLogs(fleet);
const units: [string, ReadThrough["units"][string]][] = [];
for (const unit of fleet.units) {
  const log = openUnitLog(unit, fleet);
  log.setFiles(files.get(unit.id) ?? []);
  for await (const _ of log.read()) log.takeLate();
  log.flush();
  const { rows, rejected, problem, newestRejected } = log.status();
  units.push([
    unit.id,
    {
      rows,
      rejected,
      problem: problems.get(unit.id) ?? problem,
      why: newestRejected.slice(0, 3).map(({ line, why }) => `line ${line}: ${why}`),
    },
  ]);
}
process.stdout.write(JSON.stringify({ units: Object.fromEntries(units), peakMiB: peakMiB() }));
