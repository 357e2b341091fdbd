import { findLogs } from "../acquire/find.ts";
import { followLogs } from "../acquire/follow.ts";
import { unitStaleAfterMs } from "../engine.ts";
import type { Fleet } from "../fleet/unit.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import { hour, second } from "../terms/time.ts";
import type { PastTeller } from "./answering.ts";
import { catchingUpOrder } from "./catching-up-order.ts";
import { type Clock, clockMs } from "./clock.ts";
import { startFleetFiles } from "./fleet-files.ts";
import type { CollectorView, FleetView } from "./fleet-view.ts";
import { followedPast } from "./followed-past.ts";
import {
  eventsOf,
  type Following,
  lookAtEnds,
  screenful,
  startFollowing,
  typicalLastMs,
} from "./following.ts";
import { noteChange } from "./keep-units.ts";
import { startKeeper } from "./keeper.ts";
import type { Keeping, Said } from "./keeping.ts";
import { startLeapWatch } from "./leaps.ts";
import { type PastOf, readPast, summedPast } from "./past.ts";
import { playClock } from "./play.ts";
import { tellDropped } from "./read-again.ts";
import { bytesOf } from "./read-once.ts";
import { startReading } from "./reading.ts";
import { earlyView, startShowing } from "./showing.ts";

export interface CollectorOptions {
  readonly fleet: Fleet;
  /** Absolute path, named on every screen. */
  readonly stateFolder: string;
  readonly clock: Clock;
  readonly demonstration?: { readonly speed: number };
  readonly kind?: CollectorView["kind"];
}

/** Follows a fleet's logs and runs its engines. */
export interface Collector extends PastTeller {
  view(): FleetView;
  /** Keeps what a person says; the problem where that was refused. */
  say(said: Said): string | null;
  close(): Promise<void>;
}

/** How far ahead of the clock a reading's time may be before it is taken for a clock gone wild. */
const aheadMs = hour;

/** After a leap of the clock silence is judged once readings have come, or this has passed at the latest. */
const mostHeldMs = hour;

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
  /** The view of a large fleet whose first units have been taken up, before it is followed. */
  onEarly?(view: FleetView): void;
  /** An event is kept; with `keeping` only. */
  onKept?(event: AlarmEvent): void;
}

/** What a collector works with besides its fleet. */
export interface Surroundings {
  /** The state folder; without it nothing is kept. */
  readonly keeping?: Keeping;
  /** What a person should know; others may add to it. */
  readonly notices?: () => readonly string[];
  /** Others in tests. */
  readonly find?: typeof findLogs;
  /** Fleet time that passes, by a clock that goes on evenly. */
  readonly evenMs?: () => number;
}

/**
 * Starts following: goes on from what is kept, or reads what is there, then what arrives.
 */
export async function startCollector(
  options: CollectorOptions,
  { onChange, onEvent, onKept, onEarly }: CollectorListener,
  {
    keeping,
    notices = () => [],
    find = findLogs,
    evenMs = () => performance.now() * options.clock.speed,
  }: Surroundings = {},
): Promise<Collector> {
  const { fleet, clock } = options;
  const nowMs = (): number => clockMs(clock);
  const told = new Set<string>();
  let closed = false;
  const units = new Map<string, Following>();
  const latest = {
    timeMs: () => leaps.neverBackMs(nowMs()) + aheadMs,
    why: "its time is more than an hour ahead of the clock here; set the logger's clock",
  };
  const keeper = keeping && startKeeper(keeping, fleet, units, nowMs, onKept);
  if (keeping?.notice) told.add(keeping.notice);
  const viewOptions = {
    fleet,
    units,
    nowMs,
    stateFolder: options.stateFolder,
    demonstration: options.demonstration,
    collector: keeping && { sinceMs: keeping.sinceMs, kind: options.kind ?? "watch" },
  };
  for (const unit of fleet.units) {
    if (units.size === screenful) onEarly?.(earlyView(viewOptions));
    const restored = keeper?.restored(unit);
    const following = startFollowing(unit, fleet, latest, restored);
    units.set(unit.id, following);
    if (restored) eventsOf(following, tellDropped(following, restored));
  }
  const leaps = startLeapWatch(nowMs(), evenMs, typicalLastMs(units.values()));

  const tell = (following: Following, findings: readonly Finding[]): void => {
    for (const event of eventsOf(following, findings)) onEvent?.(event);
    if (findings.length === 0) return;
    if (keeper === undefined) following.unkept = [];
    noteChange(following);
    onChange(!following.behind);
  };
  const files = startFleetFiles(fleet, units, find);
  const reading = startReading({ units, nowMs, keeper, tell, onChange });

  const lookAgain = async (): Promise<void> => {
    await files.look();
    await reading.changed(units.keys());
  };

  const takeLeap = (): void => {
    const leaptMs = leaps.look(nowMs());
    if (leaptMs === 0) return;
    void lookAgain();
    if (leaptMs < 0) return;
    for (const following of units.values()) {
      const limitMs = unitStaleAfterMs(following.player.state);
      following.silentFromMs = evenMs() + Math.min(limitMs, mostHeldMs);
    }
  };

  const lookAtClock = (): void => {
    takeLeap();
    const now = nowMs();
    for (const following of units.values()) {
      if (following.behind || evenMs() < following.silentFromMs) continue;
      const findings: Finding[] = [];
      playClock(following.player, now, findings);
      tell(following, findings);
    }
    onChange(false);
  };

  const lookAgainAtEnds = async (): Promise<void> => {
    const show = () => onChange(true);
    await lookAtEnds(units.values(), fleet, files.now(), latest.timeMs, () => closed, show);
    show();
  };

  let backlogBytes: number | null = 0;
  const catchAllUp = async (): Promise<void> => {
    await files.look();
    await lookAgainAtEnds();
    const sizes = new Map<string, number>();
    for (const [id, paths] of files.now()) sizes.set(id, await bytesOf(paths));
    backlogBytes = [...sizes.values()].reduce((sum, size) => sum + size, 0);
    const again = setInterval(() => void lookAgainAtEnds(), lookAtEndsAgainMs);
    await reading.catchUp(catchingUpOrder(fleet.units, sizes));
    clearInterval(again);
    backlogBytes = null;
    lookAtClock();
    onChange(true);
  };
  const follower = await followLogs(
    fleet,
    (ids, moved) => void (moved ? files.look().then(() => reading.changed(ids)) : reading.changed(ids)),
    (line) => {
      told.add(line);
      onChange(true);
    },
  );
  const listen = (): void => {
    if (keeper?.look()) onChange(true);
  };
  const ticking = setInterval(lookAtClock, second);
  const listening = keeper && setInterval(listen, listenEveryMs);
  const looking = setInterval(() => void lookAgain(), lookAgainMs);
  void catchAllUp();
  const pastOf = (id: string): PastOf | undefined => {
    const following = units.get(id);
    return following && followedPast(following, fleet, keeping);
  };

  return {
    view: startShowing({
      ...viewOptions,
      keeper,
      backlogBytes: () => backlogBytes,
      problem: (unit) => files.problem(unit) ?? reading.problem(unit),
      notices: () => [
        files.folderProblem(),
        keeper?.problem(),
        leaps.notice(),
        ...(keeper?.reminders() ?? []),
        ...told,
        ...notices(),
      ],
    }),
    history: (unit, wanted) => {
      const past = pastOf(unit);
      return past && summedPast(past, wanted);
    },
    readHistory: async (unit, wanted, isOver) => {
      const past = pastOf(unit);
      return past && readPast(past, wanted, isOver);
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
      await reading.stop();
      keeper?.close();
    },
  };
}
