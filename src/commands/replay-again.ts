import { once } from "node:events";
import { watch } from "chokidar";
import { differencesOf } from "../replay/differences.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { counted, visible } from "../terms/text.ts";
import { CannotWork, callersPath, print } from "./context.ts";
import { endedBySignal } from "./dashboard-on.ts";
import { differenceLines } from "./differences-text.ts";
import { playThrough, type ReplayOptions, writeEvents } from "./play-through.ts";

/** An editor may write a file in several steps; they count as one change. */
const togetherMs = 150;

/**
 * Replays, and again whenever the fleet file (or the file of services) changes, telling what differs from the
 * replay before, until a signal ends the process. Where events go to standard output, the differences go to
 * standard error. What is wrong with a changed file is told, and the next change waited for.
 */
export async function replayAgain(fleetPath: string, options: ReplayOptions): Promise<never> {
  endBySignal();
  const tell = options.events === "-" ? (line: string) => void process.stderr.write(`${line}\n`) : print;
  const files = [fleetPath, ...(options.services === undefined ? [] : [options.services])];
  const watched = await watchFiles(files.map(callersPath));
  try {
    let before = await playOnce();
    tell(
      `${counted(before.length, "event")}; replays again when ${visible(files.join(" or "))} changes; Ctrl-C ends`,
    );
    for (;;) {
      await watched.changed();
      before = await playAgain(before);
    }
  } finally {
    await watched.close();
  }

  async function playOnce(): Promise<readonly AlarmEvent[]> {
    const { events } = await playThrough(fleetPath, options);
    if (options.events !== undefined) await writeEvents(options.events, events);
    return events;
  }

  async function playAgain(last: readonly AlarmEvent[]): Promise<readonly AlarmEvent[]> {
    try {
      const events = await playOnce();
      for (const line of differenceLines(differencesOf(last, events))) tell(line);
      return events;
    } catch (error) {
      if (!(error instanceof CannotWork)) throw error;
      for (const line of error.lines) process.stderr.write(`${line}\n`);
      return last;
    }
  }
}

interface Watched {
  /** Settles once a file has changed since it settled last. */
  changed(): Promise<void>;
  close(): Promise<void>;
}

async function watchFiles(paths: readonly string[]): Promise<Watched> {
  let next = Promise.withResolvers<void>();
  let waiting: NodeJS.Timeout | undefined;
  const watcher = watch([...paths], { ignoreInitial: true });
  watcher.on("all", () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => next.resolve(), togetherMs);
  });
  await once(watcher, "ready");
  return {
    async changed() {
      await next.promise;
      next = Promise.withResolvers();
    },
    close: () => watcher.close(),
  };
}

/** Ends the process with the status of its signal; what else listens has its say first. */
function endBySignal(): void {
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) {
    process.once(signal, () => setImmediate(() => process.exit(endedBySignal[signal])));
  }
}
