import { type Channel, channels, channelUnit } from "../terms/channels.ts";

/** Channels that a person reads at a gauge, a clamp or a meter: all but those of a status. */
export const gaugeChannels: readonly Channel[] = channels.filter((channel) => channelUnit[channel] !== "");

/** Readings of channels, in their stored units. */
export type Gauges = Readonly<Partial<Record<Channel, number>>>;

/** What the logger had of a channel when its gauge was read: the mean over the span that is kept of it. */
export interface Logged {
  readonly mean: number;
  readonly spanMs: number;
}

/** What was measured by hand at a pond. */
export interface HandReadings {
  readonly dissolvedOxygenMgL?: number;
  readonly secchiM?: number;
  readonly waterTemperatureC?: number;
}

/** What a person who was at a unit tells beside the work itself; plain data, part of its record. */
export interface Visit {
  readonly arrivedMs?: number;
  readonly leftMs?: number;
  readonly readings?: HandReadings;
  /** What the skid's gauges showed; the water's temperature stands among the readings. */
  readonly gauges?: Gauges;
  /** When they were read, if not when the record says that the work was. */
  readonly readMs?: number;
  /** What the logger had then; looked up, and not kept. */
  readonly logged?: Readonly<Partial<Record<Channel, Logged>>>;
  /** What its test button did to the ground-fault device. */
  readonly groundFault?: GroundFault;
  /** Parts that stayed in the skid, and what was used up. */
  readonly parts?: readonly string[];
  readonly used?: readonly string[];
  /** Where the photos lie, as written. */
  readonly photos?: readonly string[];
  /** Serial numbers of the skid that went, where known, and of the one that came. */
  readonly skid?: { readonly from?: string; readonly to: string };
}

export const groundFaults = ["tripped", "did not trip"] as const;
export type GroundFault = (typeof groundFaults)[number];
