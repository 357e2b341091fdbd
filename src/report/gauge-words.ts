import { quantityText } from "../dashboard/reading-text.ts";
import { channelWords } from "../dashboard/words.ts";
import { type Display, displayed } from "../fleet/display.ts";
import { type Gauges, gaugeChannels, type Logged, type Visit } from "../fleet/visit.ts";
import type { Channel } from "../terms/channels.ts";
import { age, minute } from "../terms/time.ts";

/** All that was read of a unit's channels by hand, the water's temperature with it. */
export function gaugesIn({ gauges, readings }: Visit): Gauges {
  const water = readings?.waterTemperatureC;
  return { ...gauges, ...(water !== undefined && { water_temperature: water }) };
}

/** `motor current 7.1 A (logger 7.4 A, 0.3 A higher)`: what a channel showed by hand, and what the logger had then. */
export function gaugeText(
  channel: Channel,
  value: number,
  { logged }: Visit,
  display: Display,
  name = channelWords[channel],
): string {
  const beside = logged?.[channel];
  return `${name} ${quantityText(channel, value, display)}${beside === undefined ? "" : loggerText(channel, value, beside, display)}`;
}

/** The gauges of a visit in the order of the channels, a phrase each. */
export function gaugeTexts(visit: Visit, display: Display): string[] {
  return gaugeChannels.flatMap((channel) => {
    const value = visit.gauges?.[channel];
    return value === undefined ? [] : [gaugeText(channel, value, visit, display)];
  });
}

function loggerText(channel: Channel, byHand: number, { mean, spanMs }: Logged, display: Display): string {
  const [hand, logger] = [byHand, mean].map((stored) => displayed(channel, stored, display));
  const by = (logger.value - hand.value).toFixed(logger.decimals);
  const difference =
    Number(by) === 0
      ? "the same"
      : `${by.replace("-", "")} ${logger.unit} ${Number(by) > 0 ? "higher" : "lower"}`;
  const over = spanMs > minute ? `, mean over ${age(spanMs)}` : "";
  return ` (logger ${quantityText(channel, mean, display)}${over}: ${difference})`;
}
