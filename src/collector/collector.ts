import { hostname } from "node:os";
import { type FoundLogs, findLogs } from "../acquire/find.ts";
import { followLogs } from "../acquire/follow.ts";
import type { LogStatus } from "../acquire/log-status.ts";
import { oneAtATime } from "../acquire/one-at-a-time.ts";
import type { Fleet } from "../fleet/unit.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { hour, second } from "../terms/time.ts";
import { catchingUpOrder } from "./catching-up-order.ts";
import { type Clock, clockMs } from "./clock.ts";
import type { CollectorView, FleetView, Progress, UnitHistory, UnitView } from "./fleet-view.ts";
import {
  eventsOf,
  type Following,
  lookAtEnds,
  noticeArrival,
  startFollowing,
  viewFollowing,
} from "./following.ts";
import { noteChange } from "./keep-units.ts";
import { startKeeper } from "./keeper.ts";
import type { Keeping, Said } from "./keeping.ts";
import { startPace } from "./pace.ts";
import { play, playClock } from "./play.ts";
import { tellDropped, tellReadAgain } from "./read-again.ts";
import { bytesOf } from "./read-once.ts";
import { startReadQueue } from "./read-queue.ts";
import { historyOf, remember } from "./recent.ts";
import { sum } from "./summing.ts";

export interface CollectorOptions {
  readonly fleet: Fleet;
  /** Absolute path, named on every screen. */
  readonly stateFolder: string;
  readonly clock: Clock;
  readonly demonstration?: { readonly speed: number };
  readonly kind?: CollectorView["kind"];
}

/** Follows a fleet's logs and runs its engines. */
export interface Collector {
  view(): FleetView;
  /** Undefined for an unknown unit. */
  history(unit: string, fromMs: number, toMs: number, points: number): UnitHistory | undefined;
  /** Keeps what a person says; the problem where that was refused. */
  say(said: Said): string | null;
  close(): Promise<void>;
}

/** How far ahead of the clock a reading's time may be before it is taken for a clock gone wild. */
const aheadMs = hour;

/** How often the fleet's folder is looked through for files that came or went unnoticed. */
const lookAgainMs = 30 * second;

/** How often it is seen to what people have said: a look that finds nothing reads nothing. */
const listenEveryMs = second / 5;

/** How often the ends of the logs that are still to be read are looked at for newer readings. */
const lookAtEndsAgainMs = 15 * second;

export interface CollectorListener {
  /** The view has changed; `urgent` where an alarm came or went. */
  onChange(urgent: boolean): void;
  onEvent?(event: AlarmEvent): void;
  /** An event is kept; with `keeping` only. */
  onKept?(event: AlarmEvent): void;
}

/** What a collector works with besides its fleet. */
export interface Surroundings {
  /** The state folder; without it nothing is kept. */
  readonly keeping?: Keeping;
  /** What a person should know; others may add to it. */
  readonly notices?: () => readonly string[];
  /** Another in tests. */
  readonly find?: typeof findLogs;
}

/**
 * Starts following: goes on from what is kept, or reads what is there, then what arrives.
 */
export async function startCollector(
  options: CollectorOptions,
  { onChange, onEvent, onKept }: CollectorListener,
  { keeping, notices = () => [], find = findLogs }: Surroundings = {},
): Promise<Collector> {
  const { fleet, clock } = options;
  const told = new Set<string>();
  const problems = new Map<string, string>();
  const pace = startPace();
  let caughtUp = false;
  let closed = false;
  const latest = {
    timeMs: () => clockMs(clock) + aheadMs,
    why: "its time is more than an hour ahead of the clock here; set the logger's clock",
  };
  const units = new Map<string, Following>();
  const keeper = keeping && startKeeper(keeping, fleet, units, () => clockMs(clock), onKept);
  if (keeping?.notice) told.add(keeping.notice);
  for (const unit of fleet.units) {
    const restored = keeper?.restored(unit);
    const following = startFollowing(unit, fleet, latest, restored);
    units.set(unit.id, following);
    if (restored) eventsOf(following, tellDropped(following, restored));
  }

  let folderProblem: string | undefined;
  let files: FoundLogs["files"] = new Map();
  const findFiles = oneAtATime(async () => {
    const found = await find(fleet);
    problems.clear();
    for (const [id, line] of found.problems) problems.set(id, line);
    for (const [id, { log }] of units) log.setFiles(found.files.get(id) ?? []);
    files = found.files;
    folderProblem = found.folderProblem;
  });

  const tell = (following: Following, findings: readonly Finding[]): void => {
    for (const event of eventsOf(following, findings)) onEvent?.(event);
    if (findings.length === 0) return;
    if (keeper === undefined) following.unkept = [];
    noteChange(following);
    onChange(!following.behind);
  };

  const failures = new Map<string, string>();
  const readUnit = async (id: string): Promise<void> => {
    const following = units.get(id);
    if (following === undefined) return;
    const { log, player, recent } = following;
    // Left by an error in the midst of a read, it stands nowhere that it could go on from: what was kept last holds.
    following.reading = true;
    for await (const batch of log.read()) {
      remember(recent, batch);
      const late = log.takeLate();
      if (late) remember(recent, late);
      if (keeper !== undefined) sum(following.summing, batch, player.state.signals.length);
      following.unkeptRows += batch.rows;
      tell(following, play(player, batch, false, late));
      tell(following, noticeArrival(following, batch, clockMs(clock)));
      keeper?.afterBatch(following);
      onChange(false);
      if (closed) break;
    }
    following.reading = false;
    failures.delete(id);
  };
  const failed = (id: string, error: unknown): void => {
    failures.set(id, `reading its log failed: ${visible((error as Error).message)}`);
    onChange(true);
  };
  const live = startReadQueue(readUnit, failed);
  const catchUp = async (id: string): Promise<void> => {
    await readUnit(id).catch((error: unknown) => failed(id, error));
    const following = units.get(id);
    if (following === undefined) return;
    if (closed) return;
    tell(following, tellReadAgain(following));
    following.behind = false;
    following.firstLook = undefined;
    // Whatever was appended meanwhile, and from now on, does not wait for the other units' backlogs.
    void live.add([id]);
    onChange(false);
  };
  const backlog = startReadQueue(catchUp, failed);
  const changed = (ids: Iterable<string>): Promise<void> =>
    live.add([...ids].filter((id) => units.get(id)?.behind === false));

  const lookAtClock = (): void => {
    const now = clockMs(clock);
    for (const following of units.values()) {
      if (following.behind) continue;
      const findings: Finding[] = [];
      playClock(following.player, now, findings);
      tell(following, findings);
    }
    onChange(false);
  };

  const listen = (): void => {
    if (keeper?.look()) onChange(true);
  };

  const lookAgainAtEnds = async (): Promise<void> => {
    await lookAtEnds(units.values(), fleet, files, latest.timeMs, () => closed);
    onChange(true);
  };

  let bytesTotal = 0;
  const catchAllUp = async (): Promise<void> => {
    await findFiles();
    const sizes = new Map<string, number>();
    for (const [id, paths] of files) sizes.set(id, await bytesOf(paths));
    bytesTotal = [...sizes.values()].reduce((sum, size) => sum + size, 0);
    await lookAgainAtEnds();
    const again = setInterval(() => void lookAgainAtEnds(), lookAtEndsAgainMs);
    await backlog.add(catchingUpOrder(fleet.units, sizes));
    clearInterval(again);
    caughtUp = true;
    lookAtClock();
    onChange(true);
  };
  const lookAgain = async (): Promise<void> => {
    await findFiles();
    await changed(units.keys());
  };
  const follower = await followLogs(
    fleet,
    (ids, moved) => void (moved ? findFiles().then(() => changed(ids)) : changed(ids)),
    (line) => {
      told.add(line);
      onChange(true);
    },
  );
  const ticking = setInterval(lookAtClock, second);
  const listening = keeper && setInterval(listen, listenEveryMs);
  const looking = setInterval(() => void lookAgain(), lookAgainMs);
  void catchAllUp();

  const progress = (statuses: readonly LogStatus[]): Progress => {
    const bytesRead = statuses.reduce((sum, status) => sum + status.bytesRead, 0);
    return { bytesRead, bytesTotal, bytesPerSecond: pace.note(performance.now(), bytesRead) };
  };

  /** Each unit as it was when all that it had told was kept: nothing is shown before. */
  const shown = new Map<string, UnitView>();
  const viewOf = (following: Following, status: LogStatus, problem: string | undefined, now: number) => {
    const { id } = following.player.state.unit;
    const before = shown.get(id);
    const waits = keeper !== undefined && following.unkept.length > 0 && keeper.problem() === null;
    if (waits && before !== undefined) return before;
    const view = viewFollowing(following, fleet, status, problem, now);
    if (keeper !== undefined) shown.set(id, view);
    return view;
  };

  return {
    view: () => {
      const now = clockMs(clock);
      keeper?.look();
      const statuses = [...units.values()].map(({ log }) => log.status());
      return {
        version: 1,
        fleet: fleet.name,
        timezone: fleet.timezone,
        display: fleet.display,
        clockMs: now,
        stateFolder: options.stateFolder,
        ...(options.demonstration && { demonstration: options.demonstration }),
        ...(!caughtUp && { catchingUp: progress(statuses) }),
        ...(keeping && {
          collector: {
            pid: process.pid,
            host: hostname(),
            sinceMs: keeping.sinceMs,
            kind: options.kind ?? "watch",
          },
        }),
        notices: [
          folderProblem,
          keeper?.problem(),
          ...(keeper?.reminders() ?? []),
          ...told,
          ...notices(),
        ].filter((line) => typeof line === "string"),
        units: [...units].map(([id, following], place) => {
          const problem = folderProblem ?? problems.get(id) ?? failures.get(id);
          return viewOf(following, statuses[place], problem, now);
        }),
      };
    },
    history: (unit, fromMs, toMs, points) => {
      const following = units.get(unit);
      return following && historyOf(following.recent, unit, fromMs, toMs, points);
    },
    say: (said) => {
      if (keeper === undefined) return "nothing is kept here, so nobody would know of it";
      const problem = keeper.say(said);
      if (problem === null && keeper.look()) onChange(true);
      return problem;
    },
    close: async () => {
      closed = true;
      clearInterval(ticking);
      clearInterval(looking);
      clearInterval(listening);
      await follower.close();
      await Promise.all([backlog.stop(), live.stop()]);
      keeper?.close();
    },
  };
}
