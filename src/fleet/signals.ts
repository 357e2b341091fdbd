import { type Channel, channels } from "../terms/channels.ts";
import type { Unit } from "./unit.ts";

/** One column of a unit's batches: a channel, or one of several columns of a channel. */
export interface Signal {
  readonly channel: Channel;
  /** Which of the channel's columns, from 0. */
  readonly part: number;
}

const single: readonly Signal[] = channels.map((channel) => ({ channel, part: 0 }));

/**
 * The columns of a unit's batches, in order: every channel once, then the second and further columns
 * of channels that the fleet file maps to several.
 */
export function signalsOf(unit: Unit): readonly Signal[] {
  const more: Signal[] = [];
  for (const channel of channels) {
    const parts = unit.columns.channels[channel]?.length ?? 1;
    for (let part = 1; part < parts; part++) more.push({ channel, part });
  }
  return more.length === 0 ? single : [...single, ...more];
}
