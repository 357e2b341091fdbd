import { messageIn } from "../collector/event-words.ts";
import { type HistoryEntry, pageOf } from "../collector/history-page.ts";
import { type FirstFrame, startFirstFrame } from "../dashboard/first-frame.ts";
import { fullTime } from "../dashboard/local-time.ts";
import type { FleetSource } from "../dashboard/source.ts";
import type { Fleet } from "../fleet/unit.ts";
import { type OpenReplay, openReplay } from "../replay/open.ts";
import { CannotWork } from "./context.ts";
import { endedBySignal } from "./dashboard-on.ts";
import { type Played, playThrough, type ReadingShown, type ReplayOptions } from "./play-through.ts";
import { stateFolder } from "./state-folder.ts";

const usualSpeed = 60;

/** The dashboard over recorded logs, in log time, until a person or a signal ends it; the exit status. */
export async function replayOnScreen(fleetPath: string | undefined, options: ReplayOptions): Promise<number> {
  let frame: FirstFrame | undefined;
  const notes: string[] = [];
  const show = (fleet: Fleet): ReadingShown => {
    frame = startFirstFrame(fleet, (how) => process.exit(endedBySignal[how]));
    return { tell: frame.tell, note: (line) => void notes.push(line) };
  };
  try {
    const played = await playThrough(fleetPath, options, show);
    // Loads while the replay starts in its thread.
    const dashboard = import("../dashboard/run.tsx");
    const replay = await startReplay(played, options);
    try {
      // A thread that dies is an error nobody expected: the dashboard gives the terminal back and says so.
      replay.failed.catch((error: unknown) =>
        setImmediate(() => {
          throw error;
        }),
      );
      const { runDashboard } = await dashboard;
      const source: FleetSource = { ...replay, alarmHistory: historyOf(played) };
      frame?.handOver();
      return endedBySignal[await runDashboard(source, { debug: options.debug })];
    } finally {
      await replay.close();
    }
  } finally {
    frame?.leave();
    for (const line of notes) process.stderr.write(`${line}\n`);
  }
}

function startReplay(
  { fleet, path, services, all, read, fromMs, toMs }: Played,
  options: ReplayOptions,
): Promise<OpenReplay> {
  if (fromMs !== undefined && fromMs > toMs) {
    throw new CannotWork(
      `--from ${options.from} is after the last reading, ${fullTime(toMs, fleet.timezone)}; write an earlier time`,
    );
  }
  return openReplay({
    fleet,
    stateFolder: stateFolder(fleet, path, options.state),
    services,
    events: all,
    logs: read.units.map(({ view: { log, problem } }) => ({ log, problem })),
    fromMs,
    toMs,
    speed: options.speed ?? usualSpeed,
  });
}

function historyOf({ fleet, all }: Played): FleetSource["alarmHistory"] {
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
  return (wanted) => Promise.resolve({ value: pageOf(entries, wanted) });
}
