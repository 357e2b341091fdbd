import type { Level, Span } from "../../src/report/spans.ts";
import { type Channel, channelIndex } from "../../src/terms/channels.ts";
import { hour } from "../../src/terms/time.ts";

/** A level of one channel whose spans were constant; NaN for those without a reading. */
export function level(stepMs: number, fromMs: number, channel: Channel, values: readonly number[]): Level {
  return {
    stepMs,
    fromMs,
    signals: [{ signal: channelIndex[channel], min: values, mean: values, max: values }],
  };
}

type Of = Partial<Record<Channel, readonly [number, number, number]>>;

/** An hour from `at` on: least, mean and most by channel. */
export function hourSpan(at: number, of: Of): Span {
  const bySignal = new Map(
    Object.entries(of).map(([channel, value]) => [channelIndex[channel as Channel], value]),
  );
  return {
    fromMs: at * hour,
    toMs: (at + 1) * hour,
    of(signal) {
      const value = bySignal.get(signal);
      return value && { min: value[0], mean: value[1], max: value[2] };
    },
  };
}
