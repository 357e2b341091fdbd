import type { Guidance } from "../advise/guidance.ts";
import type { CommonCause } from "../assess/common-cause.ts";
import type { AlarmState, Said } from "../assess/response.ts";
import type { GasDrift } from "../detect/gas-drift-seen.ts";
import type { Found } from "../fleet/found.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import type { Channel } from "../terms/channels.ts";
import type { Evidence } from "../terms/events.ts";
import type { ReplayView } from "./replay-view.ts";
import type { TrendView } from "./trend.ts";
import type { UpkeepView } from "./upkeep-view.ts";

/** Everything a screen or a script needs of a fleet at one moment: plain data, no methods. */
export interface FleetView {
  readonly version: 1;
  readonly fleet: string;
  readonly timezone: string;
  readonly display: "si" | "us";
  /** The clock that the view was made by, ms. In a demonstration it may run fast. */
  readonly clockMs: number;
  /** Absolute path of the state folder. */
  readonly stateFolder: string;
  /** Who collects; absent where nothing is kept: in a replay, or where the state folder cannot be used. */
  readonly collector?: CollectorView;
  /** That is another process than the one whose screen this is. */
  readonly attached?: true;
  /** Set in a demonstration: the words to show and how many times faster time runs. */
  readonly demonstration?: { readonly speed: number };
  /** Set in a replay of recorded logs. */
  readonly replay?: ReplayView;
  /** Reading what is there already; absent once everything has been read. */
  readonly catchingUp?: Progress;
  /**
   * The fleet file has ways to notify, and no `collect` runs that would; since when at the latest, null where that is
   * not known. Absent where somebody is notified, or nobody is to be.
   */
  readonly unnotified?: { readonly sinceMs: number | null };
  /** Things about the whole fleet that a person should know, in one line each. */
  readonly notices: readonly string[];
  readonly units: readonly UnitView[];
  /** Of the alarms that are active, those that likely have one cause over a site; absent where none has. */
  readonly commonCauses?: readonly CommonCause[];
}

/** The process that follows the logs and keeps the state. */
export interface CollectorView {
  readonly pid: number;
  readonly host: string;
  readonly sinceMs: number;
  /** `collect` goes on without a screen and notifies; `watch` ends with its screen. */
  readonly kind: "collect" | "watch";
}

/** How far the logs that are there have been read, in bytes as the files lie on the disk. */
export interface Progress {
  readonly bytesRead: number;
  readonly bytesTotal: number;
  /** Over the last few seconds; null until that can be told. */
  readonly bytesPerSecond: number | null;
}

export type UnitState = "running" | "priming" | "stopped" | "under service" | "laid up" | "no readings";

export type { AlarmState, CommonCause };

/** An alarm that cannot be judged at a unit. */
export interface NotJudged {
  readonly alarm: AlarmName;
  readonly why: string;
  /** What somebody could add so that it can; absent where the fleet file or the kind of skid says that it is not meant to. */
  readonly lacks?: readonly string[];
  /** It stood when its settings changed, and its delay has not run since. */
  readonly isAnew?: true;
}

export interface UnitView {
  readonly id: string;
  readonly site: string | null;
  /**
   * Its logs have not been read up to now: the state and the readings are those at the logs' ends, and not
   * judged; the alarms are those that were kept before, if any. Absent once they have.
   */
  readonly catchingUp?: true;
  readonly state: UnitState;
  readonly sinceMs: number | null;
  readonly lastReadingMs: number | null;
  readonly intervalMs: number | null;
  readonly baseline: "confirmed" | "provisional" | null;
  /** Why it is provisional or none, what became of it, and what to do, in plain words. */
  readonly baselineNote: string | null;
  /** Somebody should answer: it differs from the commissioning record, or the unit was repaired since. */
  readonly baselineAsks: boolean;
  /** In the order of `channels`, only the channels the unit's log has. */
  readonly readings: readonly ReadingView[];
  /** Most urgent first. */
  readonly alarms: readonly AlarmView[];
  /** What people have set aside, whether or not its condition is active. */
  readonly setAside: readonly SetAside[];
  /** Newest remarks of alarms, and of all of them, no older than a week; the newest first. Absent where none is. */
  readonly notes?: readonly Note[];
  /** Services and stops that are begun here and have not ended; absent where none is. */
  readonly begun?: readonly ServiceRecord[];
  /** Stops that are planned for later, the next first; absent where none is. */
  readonly planned?: readonly ServiceRecord[];
  /** What visits found and still holds; absent where nothing is. */
  readonly found?: Found;
  /** What is due here and when; absent before its first reading. */
  readonly upkeep?: UpkeepView;
  /** A small trend; absent where too little was read. */
  readonly trend?: TrendView;
  /** Rules that cannot judge this unit, and why. */
  readonly quiet: readonly NotJudged[];
  readonly log: LogView;
  /** The newest gaps in its readings, the newest last; absent before its first reading. */
  readonly gaps?: GapsView;
  /** Why the unit cannot be read; it counts as an alarm. */
  readonly problem: string | null;
  /** Its newest reading, or where it has none when it was found that it cannot be read; absent where it can. */
  readonly unreadSinceMs?: number;
  /** How soon somebody must see to that it cannot be read, and why: as of `readings-stale` here; absent where it can. */
  readonly unreadHowSoon?: string;
  /** What such a problem counts as: the priority of `readings-stale` here. */
  readonly problemPriority: Priority;
}

export interface ReadingView {
  readonly channel: Channel;
  /** Which of several columns of the channel, from 0. */
  readonly part: number;
  /** Stored unit; null where the newest value is missing or too old. Ozone: 0 off, 1 on, 2 fault. */
  readonly value: number | null;
  /** Baseline centre and the normal band about it, stored unit. */
  readonly normal: { readonly center: number; readonly low: number; readonly high: number } | null;
  /** Limit past which an alarm would be raised, stored unit. */
  readonly limitLow: number | null;
  readonly limitHigh: number | null;
}

export interface AlarmView {
  readonly alarm: AlarmName;
  readonly priority: Priority;
  readonly sinceMs: number;
  readonly raisedMs: number;
  readonly state: AlarmState;
  /** Names this raising, over restarts too: unit and `seq` of its event, `LM-01/7`. Absent where nothing is kept. */
  readonly id?: string;
  readonly acknowledged?: Said;
  /** The newest remark on it, where that is not of all the unit's alarms. */
  readonly noted?: Said;
  /** When it returned to normal, of one that still stands. */
  readonly returnedMs?: number;
  /** Its condition is gone and its off-delay runs: since when, and when it clears if that stays so, ms. */
  readonly clearing?: { readonly sinceMs: number; readonly atMs: number };
  /** It stays until somebody acknowledges it after its return. */
  readonly latched?: true;
  /** How often it was raised within the last hour, of one that chatters. */
  readonly chattering?: number;
  /** The cause that suppresses it. */
  readonly by: string | null;
  readonly message: string;
  /** The reading that message and evidence are of, ms; absent where they look at a clock. */
  readonly saidMs?: number;
  readonly evidence: Evidence;
  readonly guidance: Guidance;
}

/** An alarm that a person has shelved or taken out of service. */
export interface SetAside extends Said {
  readonly alarm: AlarmName;
  readonly state: "shelved" | "out-of-service";
  /** The end of a shelving. */
  readonly untilMs?: number;
}

/** Spans without a reading, as far as they are remembered. */
export interface GapsView {
  /** Only silences that would be told as stale count, ms. */
  readonly longerThanMs: number;
  readonly spans: readonly (readonly [fromMs: number, toMs: number])[];
}

/** A person's remark on an alarm. */
export interface Note extends Said {
  readonly alarm: AlarmName | "all";
}

export interface LogView {
  readonly files: readonly string[];
  readonly rows: number;
  readonly repeats: number;
  readonly late: number;
  readonly rejected: number;
  /** The newest first, at most a few here. */
  readonly newestRejected: readonly { readonly file: string; readonly line: number; readonly why: string }[];
}

/** A unit's past for its charts: one column a signal, in the asked number of points. */
export interface UnitHistory {
  readonly unit: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** Time at the middle of each point's span; `low`/`high` are the extremes in it, NaN where nothing was read. */
  readonly timeMs: readonly number[];
  readonly signals: readonly {
    readonly channel: Channel;
    readonly part: number;
    readonly low: readonly number[];
    readonly high: readonly number[];
  }[];
  /** Within the time, before them the last of each alarm that stood when it began. */
  readonly events: readonly { readonly timeMs: number; readonly alarm: AlarmName; readonly event: string }[];
  /** Records of what people did, in order of time, also of what had begun before. */
  readonly services: readonly ServiceRecord[];
  /** A reading counts for so long where no other follows, ms: points further apart are not joined. */
  readonly heldMs: number;
  /** The longest span behind any point, ms: 0 where all were drawn from the readings themselves. */
  readonly coarsestMs: number;
  /** It was drawn from what is summed up, and the logs may tell more. */
  readonly refinable: boolean;
  /** What of the logs is not to be had any more: between which times, ms, both included, and why in plain words. */
  readonly lacking: readonly {
    readonly file: string;
    readonly why: string;
    readonly fromMs: number;
    readonly toMs: number;
  }[];
  /** Since when anything is known of the unit, ms; null where nothing is. */
  readonly knownFromMs: number | null;
  /** Of the motor; null where the log does not tell whether it runs. */
  readonly running: RunningView | null;
  /** NPSH available at the suction gauge, m, as the extremes of each point; null where the site is not known. */
  readonly npsh: {
    readonly low: readonly number[];
    readonly high: readonly number[];
    /** At duty, m; null where the fleet file does not say. */
    readonly requiredM: number | null;
  } | null;
  /** What fouling of the gas line is judged by; null where it is not. */
  readonly drift: GasDrift | null;
}

/** How long the motor ran, and how often it started. */
export interface RunningView {
  /** Between these two, ms: spans in which it both ran and stood still do not tell more. */
  readonly leastMs: number;
  readonly mostMs: number;
  /** Time of which that is known, ms. */
  readonly knownMs: number;
  readonly starts: number;
  /** There may have been more. */
  readonly startsAtLeast: boolean;
}
