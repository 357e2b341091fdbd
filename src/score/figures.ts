import { quantile } from "simple-statistics";
import { wilson } from "../statistics/wilson.ts";
import type { Priority } from "../terms/alarms.ts";
import type { Held } from "./hold.ts";

/** A share in 0…1 with its 95 % interval. */
export interface Share {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface Figures {
  readonly faults: number;
  readonly caught: number;
  readonly missed: number;
  /** From a fault's start to its alarm, over the caught ones; null where none was. */
  readonly delayMedianMs: number | null;
  readonly delay95Ms: number | null;
  readonly falseAlarms: number;
  readonly falseBy: Readonly<Record<Priority, number>>;
  /** Null where the unit-days are not known. */
  readonly falsePerUnitDay: number | null;
  readonly companions: number;
  /** Null where there is nothing to take a share of. */
  readonly recall: Share | null;
  readonly precision: Share | null;
  readonly f1: Share | null;
}

/** `part` of `whole` with Wilson's interval; null where `whole` is 0. */
export function share(part: number, whole: number): Share | null {
  if (whole === 0) return null;
  const [low, high] = wilson(part, whole);
  return { value: part / whole, low, high };
}

/**
 * F1 = 2s / (1 + s), where s is the share caught / (caught + missed + false): rising with s, so the bounds of
 * Wilson's interval for s are carried over. Source of the identity: Hand, Christen, Kirielle, "F*: an
 * interpretable transformation of the F-measure", Machine Learning 110 (2021), from memory.
 */
export function f1Of(caught: number, missed: number, falseAlarms: number): Share | null {
  const found = share(caught, caught + missed + falseAlarms);
  const carry = (s: number): number => (2 * s) / (1 + s);
  return found && { value: carry(found.value), low: carry(found.low), high: carry(found.high) };
}

/** The figures of what was held against each other, over `unitDays`. Companions count neither way. */
export function figures({ faults, raises }: Held, unitDays: number | null): Figures {
  const delays = faults.map(({ delayMs }) => delayMs).filter((delayMs) => delayMs !== null);
  const wrong = raises.filter(({ as }) => as === "false");
  const falseBy = { high: 0, medium: 0, low: 0, prompt: 0 };
  for (const { raise } of wrong) falseBy[raise.priority]++;
  const caught = delays.length;
  const missed = faults.length - caught;
  return {
    faults: faults.length,
    caught,
    missed,
    delayMedianMs: caught === 0 ? null : quantile(delays, 0.5),
    delay95Ms: caught === 0 ? null : quantile(delays, 0.95),
    falseAlarms: wrong.length,
    falseBy,
    falsePerUnitDay: unitDays === null ? null : wrong.length / unitDays,
    companions: raises.filter(({ as }) => as === "companion").length,
    recall: share(caught, faults.length),
    precision: share(caught, caught + wrong.length),
    f1: f1Of(caught, missed, wrong.length),
  };
}
