import { z } from "zod";
import { type Features, operating } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { duration } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute, second, span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const current = channelIndex.motor_current;

/** A start is over before slower logs show it twice. */
const slowestMs = 2 * second;
/** Starting current is six times full load or more, 4.5 for some small motors; at four fifths of the voltage 3.6 (common practice). No running motor draws three times. */
const usualTimes = 3;
/** Starting current is over when it has fallen to this part of its limit: running current with an overload. */
const overFraction = 2 / 3;

const settings = z.strictObject({
  /** No delay of its own: `longer_than` is the delay. It stays on for as long as `not-running`, which it brings. */
  ...common({ delay: "0 s", off_delay: "10 min", priority: "high" }),
  /** Starting current: at least this many times full load, or the clean current where no full load is given. */
  times: z.number().min(1.5).default(usualTimes),
  /** A small pump is up to speed within a second or two, with a sagging supply in three (common practice). */
  longer_than: duration().default(5 * second),
  /** A thermal protector closes again within half an hour (common practice): so long the alarm waits for its next start. */
  rest: duration().default(30 * minute),
});

type Settings = z.output<typeof settings>;

interface Memory {
  /** Since when the motor draws its starting current, ms. */
  sinceMs: number | null;
  /** It did for too long, and has not run since. */
  locked: boolean;
}

/** The current from which a motor starts rather than runs, A; infinite where the log is too slow to show a start. */
export function startingCurrentA({ unit, baseline, intervalMs }: Features, times = usualTimes): number {
  if (intervalMs > slowestMs) return Number.POSITIVE_INFINITY;
  const full = unit.motor.fullLoadCurrentA ?? centerOf(baseline, current);
  return full === undefined ? Number.POSITIVE_INFINITY : times * full;
}

/** Starting current persists: the shaft is held, the starting capacitor or switch has failed, or the supply is far too low. */
export const lockedRotor: Rule<Settings, Memory> = {
  alarm: "locked-rotor",
  version: 1,
  needs: ["motor_current"],
  needsBaseline: ({ motor }) => motor.fullLoadCurrentA === undefined,
  settings,
  evidence: [
    { name: "motor_current", unit: "A", against: "limit" },
    { name: "starting_for", unit: "s", against: "limit" },
  ],
  quiet: (_unit, _baseline, intervalMs) =>
    intervalMs !== undefined && intervalMs > slowestMs
      ? `readings every ${span(intervalMs)}: a start is seen every ${span(slowestMs)} or faster`
      : undefined,
  start: () => ({ sinceMs: null, locked: false }),
  run(memory, features, from, to, { times, longer_than, rest }, met, startingMs) {
    const limitA = startingCurrentA(features, times);
    startingMs.fill(Number.NaN, from, to);
    if (limitA === Number.POSITIVE_INFINITY) {
      memory.sinceMs = null;
      met.fill(features.intervalMs > slowestMs ? verdict.no : verdict.hold, from, to);
      return;
    }
    const { state, timeMs, sinceStopMs, value } = features;
    const amps = value[current];
    for (let row = from; row < to; row++) {
      const a = amps[row];
      if (state[row] === operating.unknown || Number.isNaN(a)) {
        met[row] = verdict.hold;
        continue;
      }
      if (a >= limitA) {
        memory.sinceMs ??= timeMs[row];
        startingMs[row] = timeMs[row] - memory.sinceMs;
        if (startingMs[row] >= longer_than) memory.locked = true;
        met[row] = startingMs[row] >= longer_than ? verdict.met : verdict.hold;
        continue;
      }
      memory.sinceMs = null;
      const rests = state[row] === operating.stopped;
      memory.locked &&= rests ? sinceStopMs[row] < rest : a >= overFraction * limitA;
      met[row] = memory.locked ? verdict.hold : verdict.no;
    }
  },
  numbers: (features, row, { times, longer_than }, startingMs) => [
    features.value[current][row],
    startingCurrentA(features, times),
    startingMs[row] / second,
    longer_than / second,
  ],
  say([a, limit, startingFor], _unit, { against }) {
    const [now, most] = against("motor_current", a, limit);
    return (
      `The motor still drew its starting current ${span(startingFor * second)} after its start: ` +
      `${now} (running is under ${most}). It does not turn.`
    );
  },
};
