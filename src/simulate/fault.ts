import type { Channel } from "../terms/channels.ts";
import { type FaultKind, faultNames } from "./fault-kinds.ts";

/** A fault with its onset and course: it grows evenly to its severity and stays until mended. */
export interface Fault {
  readonly kind: FaultKind;
  readonly fromMs: number;
  /** When it is mended; undefined: not in sight. */
  readonly toMs?: number;
  /** 0 nothing, 1 as bad as it gets. */
  readonly severity: number;
  /** Time from onset to full severity; 0 at once. */
  readonly courseMs: number;
  /** Of a fault of an instrument: which one. */
  readonly channel?: Channel;
}

/** How bad each kind is at one moment, 0..1. */
export type FaultLevels = Readonly<Record<FaultKind, number>>;

const none = Object.fromEntries(faultNames.map((k) => [k, 0])) as FaultLevels;

/** The levels of all faults at `timeMs`; of two faults of one kind the worse counts. */
export function faultLevels(faults: readonly Fault[], timeMs: number): FaultLevels {
  let levels: Record<FaultKind, number> | undefined;
  for (const fault of faults) {
    const level = faultLevel(fault, timeMs);
    if (level === 0) continue;
    levels ??= { ...none };
    levels[fault.kind] = Math.max(levels[fault.kind], level);
  }
  return levels ?? none;
}

/** How bad a fault is at `timeMs`, 0..1. */
export function faultLevel(fault: Fault, timeMs: number): number {
  const age = timeMs - fault.fromMs;
  if (age < 0 || (fault.toMs !== undefined && timeMs >= fault.toMs)) return 0;
  return age >= fault.courseMs ? fault.severity : (fault.severity * age) / fault.courseMs;
}
