import { verdict } from "../detect/rule.ts";

/**
 * On-delay, off-delay and deadband of one alarm: one mechanism for all rules (semantics of OPC 10000-9,
 * Alarms and Conditions, annex B). Plain data.
 */
export interface DelayState {
  /** Where the condition stands with its deadband: rows that hold leave it as it is. */
  level: boolean;
  phase: "off" | "pending" | "on";
  /** First reading of the condition; breaks shorter than the off-delay keep it. */
  sinceMs: number;
  /** First reading of the normal stretch while pending or on; null while the condition holds. */
  normalSinceMs: number | null;
  /** The on-delay has run out in the deadband: the condition stays, and is none to wait for. */
  lapsed: boolean;
}

export interface Delays {
  readonly onMs: number;
  readonly offMs: number;
  /** A step longer than this is a gap: nothing is known of it, so a running delay starts anew. */
  readonly gapMs: number;
}

/**
 * `began`: the on-delay runs; `lapsed`: it ran out while the condition is in its deadband; `abandoned`: it ended
 * without an alarm; `on`, `off`: the condition changed.
 */
export interface Transition {
  readonly row: number;
  readonly kind: "began" | "lapsed" | "abandoned" | "on" | "off";
  /** For `on` and `began` the first reading of the condition; for the others of the normal stretch. */
  readonly sinceMs: number;
}

export function startDelay(): DelayState {
  return { level: false, phase: "off", sinceMs: 0, normalSinceMs: null, lapsed: false };
}

/**
 * Whether some row of `from…to` may meet the condition; `words` are the verdicts, four in one. `met` is the only odd
 * code, so that four rows are looked at together; those beside them may be among them.
 */
export function anyMet(words: Uint32Array, from: number, to: number): boolean {
  let all = 0;
  for (let k = from >> 2; k << 2 < to; k++) all |= words[k];
  return (all & 0x01010101) !== 0;
}

/**
 * Runs the delays over rows `from…to` and calls `emit` at each transition. An alarm comes on only at a
 * reading that meets the condition itself. `previousMs` is the time of the reading before `from`, or NaN.
 */
export function runDelays(
  state: DelayState,
  delays: Delays,
  timeMs: Float64Array,
  met: Uint8Array,
  from: number,
  to: number,
  previousMs: number,
  emit: (transition: Transition) => void,
): void {
  const { onMs, offMs, gapMs } = delays;
  let before = previousMs;
  for (let row = from; row < to; row++) {
    const t = timeMs[row];
    const v = met[row];
    if (v === verdict.met) state.level = true;
    else if (v === verdict.no) state.level = false;
    if (state.phase === "off") {
      // Nothing that stands before the first reading that meets the condition matters to it.
      if (v === verdict.met) {
        state.phase = "pending";
        state.sinceMs = t;
        state.normalSinceMs = null;
        state.lapsed = false;
        emit({ row, kind: "began", sinceMs: t });
      }
    } else if (t - before > gapMs) {
      afterGap(state, row, t, v, emit);
    }
    before = t;
    if (state.phase === "off") continue;
    if (state.level) state.normalSinceMs = null;
    else state.normalSinceMs ??= t;
    if (state.phase === "pending" && v === verdict.met && t - state.sinceMs >= onMs) {
      state.phase = "on";
      emit({ row, kind: "on", sinceMs: state.sinceMs });
    } else if (state.phase === "pending" && state.level && !state.lapsed && t - state.sinceMs >= onMs) {
      state.lapsed = true;
      emit({ row, kind: "lapsed", sinceMs: state.sinceMs });
    } else if (state.normalSinceMs !== null && t - state.normalSinceMs >= offMs) {
      emit({ row, kind: state.phase === "on" ? "off" : "abandoned", sinceMs: state.normalSinceMs });
      state.phase = "off";
      state.normalSinceMs = null;
    }
  }
}

/** A gap proves nothing: a pending alarm starts its delay anew, a normal stretch is counted from here. */
function afterGap(
  state: DelayState,
  row: number,
  t: number,
  v: number,
  emit: (transition: Transition) => void,
): void {
  if (state.normalSinceMs !== null) state.normalSinceMs = t;
  if (state.phase !== "pending") return;
  if (v === verdict.met) {
    state.sinceMs = t;
    state.lapsed = false;
    emit({ row, kind: "began", sinceMs: t });
  } else {
    state.level = false;
    state.phase = "off";
    emit({ row, kind: "abandoned", sinceMs: t });
  }
}
