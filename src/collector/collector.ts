import { findLogs } from "../acquire/find.ts";
import { followLogs } from "../acquire/follow.ts";
import { openUnitLog, type UnitLog } from "../acquire/unit-log.ts";
import { startUnit } from "../engine.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet } from "../fleet/unit.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { hour, second } from "../terms/time.ts";
import { type Clock, clockMs } from "./clock.ts";
import type { FleetView, UnitHistory } from "./fleet-view.ts";
import { logView } from "./log-view.ts";
import { type Player, play, playClock, startPlayer } from "./play.ts";
import { bytesOf } from "./read-once.ts";
import { startReadQueue } from "./read-queue.ts";
import { historyOf, type Recent, remember, rememberEvent, startRecent } from "./recent.ts";
import { viewUnit } from "./view.ts";

export interface CollectorOptions {
  readonly fleet: Fleet;
  /** Absolute path, named on every screen. */
  readonly stateFolder: string;
  readonly clock: Clock;
  readonly demonstration?: { readonly speed: number };
}

/** Follows a fleet's logs and runs its engines. */
export interface Collector {
  view(): FleetView;
  /** Undefined for an unknown unit. */
  history(unit: string, fromMs: number, toMs: number, points: number): UnitHistory | undefined;
  close(): Promise<void>;
}

interface Following {
  readonly log: UnitLog;
  readonly player: Player;
  readonly recent: Recent;
  seq: number;
}

/** How far ahead of the clock a reading's time may be before it is taken for a clock gone wild. */
const aheadMs = hour;

/** How often the fleet's folder is looked through for files that came or went unnoticed. */
const lookAgainMs = 30 * second;

export interface CollectorListener {
  /** The view has changed; `urgent` where an alarm came or went. */
  onChange(urgent: boolean): void;
  onEvent?(event: AlarmEvent): void;
}

/** Starts following: reads what is there, then what arrives. */
export async function startCollector(
  options: CollectorOptions,
  { onChange, onEvent }: CollectorListener,
): Promise<Collector> {
  const { fleet, clock } = options;
  const units = new Map<string, Following>();
  const notices = new Set<string>();
  const problems = new Map<string, string>();
  let caughtUp = false;
  let closed = false;
  const latest = {
    timeMs: () => clockMs(clock) + aheadMs,
    why: "its time is more than an hour ahead of the clock here; set the logger's clock",
  };
  for (const unit of fleet.units) {
    units.set(unit.id, {
      log: openUnitLog(unit, fleet, { latest }),
      player: startPlayer(startUnit(unit, fleet), fleet.services),
      recent: startRecent(signalsOf(unit)),
      seq: 0,
    });
  }

  let folderProblem: string | undefined;
  let bytesTotal = 0;
  const findFiles = async (): Promise<void> => {
    const found = await findLogs(fleet);
    problems.clear();
    for (const [id, line] of found.problems) problems.set(id, line);
    for (const [id, { log }] of units) log.setFiles(found.files.get(id) ?? []);
    folderProblem = found.folderProblem;
    if (!caughtUp) bytesTotal = await bytesOf([...found.files.values()].flat());
  };

  const tell = (following: Following, findings: readonly Finding[]): void => {
    const unit = following.player.state.unit.id;
    for (const finding of findings) {
      following.seq++;
      const event = { ...finding, unit, seq: following.seq };
      rememberEvent(following.recent, event);
      onEvent?.(event);
    }
    if (findings.length > 0) onChange(true);
  };

  let anyReading = false;
  const readUnit = async (id: string): Promise<void> => {
    const following = units.get(id);
    if (following === undefined) return;
    for await (const batch of following.log.read()) {
      if (closed) return;
      remember(following.recent, batch);
      const late = following.log.takeLate();
      if (late) remember(following.recent, late);
      tell(following, play(following.player, batch, false));
      onChange(!anyReading);
      anyReading = true;
    }
  };
  const failures = new Map<string, string>();
  const queue = startReadQueue(readUnit, (id, error) => {
    failures.set(id, `reading its log failed: ${visible((error as Error).message)}`);
    onChange(true);
  });

  const lookAtClock = (): void => {
    if (!caughtUp) return;
    const now = clockMs(clock);
    for (const following of units.values()) {
      const findings: Finding[] = [];
      playClock(following.player, now, findings);
      tell(following, findings);
    }
    onChange(false);
  };

  const lookAgain = async (): Promise<void> => {
    await findFiles();
    await queue.add(units.keys());
  };
  const follower = await followLogs(
    fleet,
    (ids, moved) => void (moved ? findFiles().then(() => queue.add(ids)) : queue.add(ids)),
    (line) => {
      notices.add(line);
      onChange(true);
    },
  );
  const ticking = setInterval(lookAtClock, second);
  const looking = setInterval(() => void lookAgain(), lookAgainMs);
  void lookAgain().then(() => {
    caughtUp = true;
    lookAtClock();
    onChange(true);
  });

  return {
    view: () => {
      const now = clockMs(clock);
      const statuses = [...units.values()].map(({ log }) => log.status());
      return {
        version: 1,
        fleet: fleet.name,
        timezone: fleet.timezone,
        display: fleet.display,
        clockMs: now,
        stateFolder: options.stateFolder,
        ...(options.demonstration && { demonstration: options.demonstration }),
        ...(!caughtUp && {
          catchingUp: {
            bytesRead: statuses.reduce((sum, status) => sum + status.bytesRead, 0),
            bytesTotal,
          },
        }),
        notices: folderProblem === undefined ? [...notices] : [folderProblem, ...notices],
        units: [...units.values()].map(({ player: { state } }, place) => {
          const status = statuses[place];
          const problem =
            folderProblem ?? problems.get(state.unit.id) ?? failures.get(state.unit.id) ?? status.problem;
          return viewUnit(state, fleet, logView(status), problem, now);
        }),
      };
    },
    history: (unit, fromMs, toMs, points) => {
      const following = units.get(unit);
      return following && historyOf(following.recent, unit, fromMs, toMs, points);
    },
    close: async () => {
      closed = true;
      clearInterval(ticking);
      clearInterval(looking);
      await follower.close();
      await queue.stop();
    },
  };
}
