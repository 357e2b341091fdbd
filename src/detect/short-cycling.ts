import { z } from "zod";
import { operating, someState } from "../condition/features.ts";
import { duration } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { hour, minute, second, span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  /** Each start beyond the limit is told at once; it is over when there was none for an hour. */
  ...common({ delay: "0 s", off_delay: "1 h", priority: "medium" }),
  /**
   * Starts an hour where `motor.starts_per_hour` does not say: half of what NEMA MG 10 allows the least favoured
   * polyphase motor of these sizes, an upper bound for a single-phase one (house choice; the maker's figure governs).
   */
  starts: z.number().min(1).default(6),
  /** Lengths of two spells are alike within this share: a protector's vary with the air and the sun (house choice). */
  alike: z.number().gt(0).lt(1).default(0.25),
  /** A thermal protector closes again after minutes, within two thirds of an hour (common practice). */
  shortest_off: duration().default(2 * minute),
  longest_off: duration().default(40 * minute),
  /** A protector that opens later than this lets the motor run for most of the time (house choice). */
  longest_on: duration().default(1 * hour),
});

type Settings = z.output<typeof settings>;

interface Memory {
  motor: "unknown" | "stopped" | "on";
  /** Time of the last reading that told the motor's state, ms. */
  beforeMs: number;
  /** When the present spell was seen to begin, ms; null where it was not. */
  spellFromMs: number | null;
  /** Whether the unit should have run for all of the present off spell. */
  wanted: boolean;
  /** Starts of the last hour, ms, oldest first. */
  startsMs: number[];
  /** The last two on and off spells of an unbroken row, ms. */
  onMs: number[];
  offMs: number[];
}

/** A step of more intervals than this, and of more than a minute, may hide a start. */
const seenIntervals = 5;

function allowedStarts(unit: Unit, { starts }: Settings): number {
  return unit.motor.startsPerHour ?? starts;
}

function keepTwo(list: number[], ms: number): void {
  list.push(ms);
  if (list.length > 2) list.shift();
}

/** The length of a whole turn, ms, where two on and two off spells are alike each; else NaN. */
function rhythmMs({ onMs, offMs }: Memory, set: Settings, intervalMs: number): number {
  if (onMs.length < 2 || offMs.length < 2) return Number.NaN;
  const alike = ([a, b]: number[]) => Math.abs(a - b) <= set.alike * Math.max(a, b) + intervalMs;
  const off = (offMs[0] + offMs[1]) / 2;
  const on = (onMs[0] + onMs[1]) / 2;
  const fits = off >= set.shortest_off && off <= set.longest_off && on <= set.longest_on;
  return fits && alike(onMs) && alike(offMs) ? on + off : Number.NaN;
}

/**
 * The motor starts more often in an hour than it may; or it stops for the third time in an even rhythm although it
 * should run, as its thermal protector makes it.
 */
export const shortCycling: Rule<Settings, Memory> = {
  alarm: "short-cycling",
  version: 1,
  needs: ["motor_current"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "starts_in_last_hour", unit: "", against: "limit" },
    { name: "turn", unit: "s" },
  ],
  ownColumns: 2,
  start: () => ({
    motor: "unknown",
    beforeMs: Number.NaN,
    spellFromMs: null,
    wanted: false,
    startsMs: [],
    onMs: [],
    offMs: [],
  }),
  /** Somebody has been there: what they switched, and what was before, counts no more. */
  serviced(memory, { step }) {
    memory.startsMs = [];
    forgetSpells(memory);
    return step !== "begin";
  },
  /** `own`: the starts of the last hour, and the turn of a rhythm, ms; NaN where it is not that. */
  run(memory, features, from, to, set, met, own) {
    const { intervalMs, state, timeMs, unit, wanted } = features;
    const allowed = allowedStarts(unit, set);
    const seenMs = Math.max(seenIntervals * intervalMs, minute);
    met.fill(verdict.no, from, to);
    own.fill(Number.NaN, 2 * from, 2 * to);
    const goesOn = memory.motor === "on" && !someState(features, operating.stopped, operating.unknown);
    if (goesOn && features.longestStepMs <= seenMs && timeMs[from] - memory.beforeMs <= seenMs) {
      memory.beforeMs = timeMs[to - 1];
      return;
    }
    for (let row = from; row < to; row++) {
      if (state[row] === operating.unknown) {
        met[row] = verdict.hold;
        continue;
      }
      const t = timeMs[row];
      const motor = state[row] === operating.stopped ? "stopped" : "on";
      if (t - memory.beforeMs > seenMs) forgetSpells(memory);
      memory.beforeMs = t;
      if (motor === "stopped" && wanted[row] !== 1) memory.wanted = false;
      if (motor === memory.motor) continue;
      const spellMs = t - (memory.spellFromMs ?? Number.NaN);
      if (memory.motor === "stopped") {
        if (Number.isNaN(spellMs) || !memory.wanted) forgetSpells(memory);
        else keepTwo(memory.offMs, spellMs);
        memory.startsMs = [...memory.startsMs.filter((ms) => ms > t - hour), t];
        own[2 * row] = memory.startsMs.length;
        if (memory.startsMs.length > allowed) met[row] = verdict.met;
      } else if (memory.motor === "on") {
        if (!Number.isNaN(spellMs)) keepTwo(memory.onMs, spellMs);
        own[2 * row + 1] = rhythmMs(memory, set, intervalMs);
        if (own[2 * row + 1] > 0) met[row] = verdict.met;
        memory.wanted = wanted[row] === 1;
      }
      memory.spellFromMs = memory.motor === "unknown" ? null : t;
      memory.motor = motor;
    }
  },
  numbers: ({ unit }, row, set, own) => [
    own[2 * row],
    allowedStarts(unit, set),
    own[2 * row + 1] / second,
    Number.NaN,
  ],
  say([starts, allowed, turn]) {
    if (!Number.isNaN(starts))
      return `The motor started ${starts} times within an hour; it may ${allowed} times.`;
    return (
      `The motor stopped for the third time in an even rhythm, every ${span(turn * second)}, although it should run: ` +
      "its thermal protector opens and closes by itself, or its control does."
    );
  },
};

function forgetSpells(memory: Memory): void {
  memory.onMs = [];
  memory.offMs = [];
  memory.spellFromMs = null;
}
