/** Where the replay of recorded logs stands; `clockMs` of the view is its log time. */
export interface ReplayView {
  /** What part of the recording is played, ms. */
  readonly fromMs: number;
  readonly toMs: number;
  /** How many times faster log time runs; `max`: as fast as the rules can be run. */
  readonly speed: ReplaySpeed;
  readonly paused: boolean;
  /** On its way to another time: where to, and how much of the way is done, 0 to 1. The rest of the view waits. */
  readonly goingTo: { readonly timeMs: number; readonly done: number } | null;
  /** What came of the last request, where that is worth a word. */
  readonly note: string | null;
}

export type ReplaySpeed = number | "max";

/** What a person asks of a replay. `unit`: of this unit alone; null: of any. */
export type ReplayRequest =
  | { readonly ask: "play or pause" | "faster" | "slower" | "beginning" }
  | { readonly ask: "step" | "next alarm" | "last alarm"; readonly unit: string | null }
  | { readonly ask: "go to"; readonly timeMs: number };
