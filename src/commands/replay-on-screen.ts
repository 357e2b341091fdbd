import { messageIn } from "../collector/event-words.ts";
import { type HistoryEntry, pageOf } from "../collector/history-page.ts";
import { fullTime } from "../dashboard/local-time.ts";
import { runDashboard } from "../dashboard/run.tsx";
import type { FleetSource } from "../dashboard/source.ts";
import { openReplay } from "../replay/open.ts";
import { CannotWork } from "./context.ts";
import { endedBySignal } from "./dashboard-on.ts";
import { playThrough, type ReplayOptions } from "./play-through.ts";
import { stateFolder } from "./state-folder.ts";

const usualSpeed = 60;

/** The dashboard over recorded logs, in log time, until a person or a signal ends it; the exit status. */
export async function replayOnScreen(fleetPath: string | undefined, options: ReplayOptions): Promise<number> {
  const { fleet, path, services, read, fromMs, toMs, all } = await playThrough(fleetPath, options);
  if (fromMs !== undefined && fromMs > toMs) {
    throw new CannotWork(
      `--from ${options.from} is after the last reading, ${fullTime(toMs, fleet.timezone)}; write an earlier time`,
    );
  }
  const replay = await openReplay({
    fleet,
    stateFolder: stateFolder(fleet, path, options.state),
    services,
    events: all,
    logs: read.units.map(({ view: { log, problem } }) => ({ log, problem })),
    fromMs,
    toMs,
    speed: options.speed ?? usualSpeed,
  });
  try {
    // A thread that dies is an error nobody expected: the dashboard gives the terminal back and says so.
    replay.failed.catch((error: unknown) =>
      setImmediate(() => {
        throw error;
      }),
    );
    const units = new Map(fleet.units.map((unit) => [unit.id, unit]));
    const entries = all.map(
      ({ by, seq, ...event }): HistoryEntry => ({
        ...event,
        message: messageIn(event, units.get(event.unit), fleet.display),
        isWord: false,
        n: seq,
        ...(by && { cause: by }),
      }),
    );
    const source: FleetSource = {
      ...replay,
      alarmHistory: (wanted) => Promise.resolve({ value: pageOf(entries, wanted) }),
    };
    return endedBySignal[await runDashboard(source, { debug: options.debug })];
  } finally {
    await replay.close();
  }
}
