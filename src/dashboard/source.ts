import type { FleetView, UnitHistory } from "../collector/fleet-view.ts";
import type { HistoryReader } from "../collector/history-reader.ts";
import type { Said } from "../collector/keeping.ts";
import type { PerformanceWanted, readPerformance } from "../collector/read-performance.ts";
import type { ReplayRequest } from "../collector/replay-view.ts";

/** Where the dashboard gets what it draws: the newest view, word of a newer one, and a unit's past. */
export interface FleetSource {
  current(): FleetView;
  /** Calls `listener` on each newer view; the function given back ends that. */
  subscribe(listener: () => void): () => void;
  /** A unit's past from `fromMs` to `toMs` in `points` points: at once by what is summed up; `finely` by its logs. */
  history(unit: string, fromMs: number, toMs: number, points: number, finely?: boolean): Promise<UnitHistory>;
  /** Has what a person says kept; the problem where that was refused. Absent where nobody can say anything. */
  say?(said: readonly Said[]): Promise<string | null>;
  /** How the alarms did over windows that end at `toMs`, by what is kept; absent where nothing is. */
  performance?(wanted: PerformanceWanted): ReturnType<typeof readPerformance>;
  /** A page of the alarm history; undefined where a later one was asked for meanwhile. Absent where none is kept. */
  readonly alarmHistory?: HistoryReader["read"];
  /** Lets go of what others may want while the screen is set aside, and takes it up again. */
  letGo?(): Promise<void>;
  takeUp?(): void;
  /** Takes what a person asks of a replay; absent where nothing is replayed. */
  replay?(request: ReplayRequest): void;
}
