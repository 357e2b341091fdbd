import { execFile } from "node:child_process";
import { pino } from "pino";
import { wallClock } from "../collector/clock.ts";
import type { FleetView } from "../collector/fleet-view.ts";
import { type FollowedPerformance, followPerformance } from "../collector/follow-performance.ts";
import { openMetrics, replaceFile } from "../collector/metrics.ts";
import { openUnattended } from "../collector/unattended.ts";
import { NotKept } from "../collector/view-thread.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { iso, second } from "../terms/time.ts";
import { CannotWork, callersPath, fileProblem } from "./context.ts";
import { endedBySignal } from "./dashboard-on.ts";
import { loadFleet } from "./load-fleet.ts";
import { keepOptions, stateFolder } from "./state-folder.ts";

export interface CollectOptions {
  readonly state?: string;
  /** An OpenMetrics text file that is written anew every few seconds. */
  readonly metrics?: string;
}

const metricsEveryMs = 5 * second;

/** A view comes each second; where none came for so long the collector hangs, and the watchdog is not fed. */
const hangsAfterMs = 30 * second;

/** `collect`: follows the logs, keeps the state and tells people, without a screen, until a signal ends it. */
export async function collect(fleetPath: string | undefined, options: CollectOptions): Promise<number> {
  const ended = new Promise<"SIGINT" | "SIGTERM">((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => resolve(signal));
  });
  let { fleet, path } = await loadFleet(fleetPath);
  if (options.state === undefined && fleet.state === undefined) {
    throw new CannotWork(
      `${fleetPath ?? "fleet.yaml"}: collect needs a state folder that stays; write state: /var/lib/tarnwatch there, or give --state`,
    );
  }
  const folder = stateFolder(fleet, path, options.state);
  const log = pino({ base: null, timestamp: pino.stdTimeFunctions.isoTime });
  const opened = await openUnattended(
    { fleet, stateFolder: folder, clock: wallClock, keep: keepOptions(fleet, folder, "collect") },
    (event) => logEvent(event),
  ).catch((error: unknown) => {
    throw error instanceof NotKept ? new CannotWork(error.message) : error;
  });
  if ("taken" in opened) throw new CannotWork(`${visible(folder)}: ${opened.taken}`);
  const { thread } = opened;

  function logEvent({ timeMs, sinceMs, message, ...event }: AlarmEvent): void {
    log.info({ ...event, at: iso(timeMs), since: iso(sinceMs) }, message);
  }

  const metricsPath = options.metrics === undefined ? undefined : callersPath(options.metrics);
  let figures: FollowedPerformance | undefined;
  let metricsDueMs = 0;
  const metricsFailed = onceEach((line) => log.error(line));
  const writeMetrics = (to: string, view: FleetView): void => {
    metricsDueMs = performance.now() + metricsEveryMs;
    try {
      replaceFile(to, openMetrics(view, figures?.current()));
      metricsFailed(null);
    } catch (error) {
      metricsFailed(fileProblem(to, error, "write"));
    }
  };
  let notices: readonly string[] = [];
  let seenMs = performance.now();
  let caughtUp = false;
  const look = (view: FleetView): void => {
    seenMs = performance.now();
    for (const notice of view.notices) if (!notices.includes(notice)) log.warn(notice);
    for (const notice of notices) if (!view.notices.includes(notice)) log.info(`over: ${notice}`);
    notices = view.notices;
    if (metricsPath !== undefined && performance.now() >= metricsDueMs) writeMetrics(metricsPath, view);
    if (caughtUp || view.catchingUp) return;
    caughtUp = true;
    log.info({ units: view.units.length }, "the logs have been read up to now");
    if (metricsPath === undefined) return;
    figures ??= followPerformance(
      folder,
      onceEach((line) => log.error(line)),
    );
  };
  thread.subscribe(() => look(thread.current()));
  log.info({ fleet: fleet.name, units: fleet.units.length, state: folder }, "collecting");
  look(thread.current());
  tellService("--ready", `--status=collecting ${fleet.units.length} units`);
  const feeding = feedWatchdog(() => performance.now() - seenMs < hangsAfterMs);

  const reread = async (): Promise<void> => {
    try {
      const fresh = await loadFleet(fleetPath);
      const moved = stateFolder(fresh.fleet, fresh.path, options.state) !== folder;
      if (moved) throw new CannotWork("`state` has changed: start collect anew for that");
      fleet = fresh.fleet;
      thread.setFleet(fleet);
      caughtUp = false;
      log.info({ units: fleet.units.length }, "the fleet file was read again");
    } catch (error) {
      if (!(error instanceof CannotWork)) throw error;
      for (const line of error.lines) log.error(line);
      log.error("the fleet file is not used; the one before goes on");
    }
  };
  const hangUp = (): void => void reread();
  process.on("SIGHUP", hangUp);
  try {
    const signal = await Promise.race([ended, thread.failed]);
    tellService("--stopping");
    log.info(`ended by ${signal}`);
    return endedBySignal[signal];
  } finally {
    process.off("SIGHUP", hangUp);
    clearInterval(feeding);
    figures?.close();
    await thread.close();
  }
}

/** Says a problem when it comes and not again while it lasts; null: it is over. */
function onceEach(say: (problem: string) => void): (problem: string | null) => void {
  let last: string | null = null;
  return (problem) => {
    if (problem !== null && problem !== last) say(problem);
    last = problem;
  };
}

/** Tells systemd where it started this (sd_notify(3)); Node has no datagram socket of its own. */
function tellService(...words: readonly string[]): void {
  if (process.env.NOTIFY_SOCKET) execFile("systemd-notify", words, () => {});
}

/** Feeds systemd's watchdog twice as often as it asks for (sd_watchdog_enabled(3)) while `isWell`. */
function feedWatchdog(isWell: () => boolean): NodeJS.Timeout | undefined {
  const everyMs = Number(process.env.WATCHDOG_USEC) / 1000 / 2;
  if (!(everyMs > 0)) return undefined;
  return setInterval(() => {
    if (isWell()) tellService("WATCHDOG=1");
  }, everyMs);
}
