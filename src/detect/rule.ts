import type { ZodType } from "zod";
import type { Baseline, Features } from "../condition/features.ts";
import type { Spoken } from "../fleet/display.ts";
import type { ServiceRecord, Unit } from "../fleet/unit.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import type { Channel } from "../terms/channels.ts";

/** Codes that a rule writes for each row. `hold` is the deadband, or a row that cannot tell. */
export const verdict = { no: 0, met: 1, hold: 2 } as const;

/** One number of a rule's evidence, and what it is held against. */
export interface EvidenceItem {
  readonly name: string;
  readonly unit: string;
  readonly against?: "baseline" | "limit";
}

/** A level of one channel past which a rule would be met; below it where `side` is `low`. */
export interface Limit {
  readonly channel: Channel;
  readonly side: "low" | "high";
  readonly value: number;
}

/** Settings that every rule has; a rule's schema adds its own. */
export interface CommonSettings {
  /** On-delay, ms: how long the condition must hold, or three sample intervals if longer. */
  readonly delay: number;
  /** Off-delay, ms, likewise. */
  readonly off_delay: number;
  readonly priority: Priority;
}

/** Why a rule is quiet, and what is amiss that somebody should see to; a sentence alone where it is meant to be. */
export interface Quiet {
  readonly why: string;
  readonly lacks: string;
}

/**
 * A rule reads columns of features and writes a column: was it met. Where that changes an alarm, it is asked
 * for the numbers of that row. It owns its memory, plain data that survives `JSON` encoding; nothing may
 * depend on where one `run` ends and the next begins.
 */
export interface Rule<Settings extends CommonSettings = CommonSettings, Memory = unknown> {
  readonly alarm: AlarmName;
  /** Raised by a change that makes old memory meaningless. */
  readonly version: number;
  /** Channels without which the rule is quiet; an inner list means any one of them. */
  readonly needs: readonly (Channel | readonly Channel[])[];
  /** Whether it cannot judge without a baseline; some units give by their nameplate what others have to learn. */
  readonly needsBaseline: boolean | ((unit: Unit) => boolean);
  /** Defaults, ranges and units: the fleet file's `limits`. */
  readonly settings: ZodType<Settings>;
  readonly evidence: readonly EvidenceItem[];
  /** How many numbers `own` holds for each row, a row's side by side. Default 1. */
  readonly ownColumns?: number;
  /** While the alarm is on its numbers are said anew where the first of `own` changes, without an event. */
  readonly restates?: true;
  /**
   * Why the rule is quiet at this unit for another reason than a missing channel; undefined: it is not.
   * `intervalMs` is the sample interval, where it is known already.
   */
  quiet?(unit: Unit, baseline: Baseline | null, intervalMs?: number): Quiet | string | undefined;
  /** The levels to mark on a gauge or a chart, in stored units. */
  limits?(unit: Unit, baseline: Baseline | null, settings: Settings): readonly Limit[];
  start(unit: Unit): Memory;
  /** Service that was recorded at this unit; true where its alarm, if there is one, is over with it. */
  serviced?(memory: Memory, record: ServiceRecord): boolean;
  /** Writes a verdict for each row from `from` to before `to`, and what `numbers` needs of its memory into `own`. */
  run(
    memory: Memory,
    features: Features,
    from: number,
    to: number,
    settings: Settings,
    met: Uint8Array,
    own: Float64Array,
  ): void;
  /** The evidence of one row: a pair an item, its value and what it is held against; NaN where there is none. */
  numbers(features: Features, row: number, settings: Settings, own: Float64Array): readonly number[];
  /** How urgent a row that is met is, where that hangs on how things stand; while the alarm is on it only rises above the settings' priority. */
  priorityAt?(features: Features, row: number, settings: Settings, own: Float64Array): Priority;
  /** The reason in plain words from the numbers of the raising row; `spoken` says them in its units. */
  say(numbers: readonly number[], unit: Unit, spoken: Spoken): string;
}
