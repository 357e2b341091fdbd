import type { AlarmView, ReadingView, UnitView } from "../collector/fleet-view.ts";
import { displayed, displayUnit, rowDecimals } from "../fleet/display.ts";
import { type Channel, channelUnit, ozoneStates } from "../terms/channels.ts";
import { channelWords } from "./words.ts";

export interface ReadingText {
  readonly number: string;
  readonly unit: string;
}

const missing = "–";

/** A stored value as a person reads it: number and unit apart, so that columns can be aligned. */
export function readingText(channel: Channel, value: number | null, system: "si" | "us"): ReadingText {
  if (channel === "ozone")
    return { number: value === null ? missing : (ozoneStates[value] ?? "?"), unit: "" };
  if (channel === "run_command")
    return { number: value === null ? missing : value > 0 ? "on" : "off", unit: "" };
  if (value === null || !Number.isFinite(value)) return { number: missing, unit: unitText(channel, system) };
  const shown = displayed(channel, value, system);
  const number = shown.value.toFixed(shown.decimals);
  return { number: Number(number) === 0 ? number.replace("-", "") : number, unit: shown.unit };
}

/** The same in a row of many units. */
export function rowText(channel: Channel, value: number | null, system: "si" | "us"): ReadingText {
  if (value === null || !Number.isFinite(value) || channelUnit[channel] === "")
    return readingText(channel, value, system);
  const shown = displayed(channel, value, system);
  const number = shown.value.toFixed(rowDecimals(channel, system));
  return { number: Number(number) === 0 ? number.replace("-", "") : number, unit: shown.unit };
}

/** Number and unit in one: `86.4 kPa`. */
export function quantityText(channel: Channel, value: number | null, system: "si" | "us"): string {
  const { number, unit } = readingText(channel, value, system);
  return unit === "" ? number : `${number} ${unit}`;
}

/** What the channels that decided an alarm read now: `motor temperature 237.4 °F`. Empty where none is read, or no more. */
export function nowText(alarm: AlarmView, unit: UnitView, system: "si" | "us"): string {
  if (unit.state === "no readings") return "";
  return unit.readings
    .filter(
      ({ channel, part, value }) => part === 0 && value !== null && Object.hasOwn(alarm.evidence, channel),
    )
    .map(({ channel, value }) => `${channelWords[channel]} ${quantityText(channel, value, system)}`)
    .join(", ");
}

export function unitText(channel: Channel, system: "si" | "us"): string {
  return displayUnit(channel, system);
}

/** Whether a reading is a number on a scale, rather than a status. */
export function isMeasured(reading: { readonly channel: Channel }): boolean {
  return channelUnit[reading.channel] !== "";
}

/** Where a reading stands: inside its normal band, outside it, or past a limit. */
export function standing(reading: ReadingView): "normal" | "outside" | "past limit" | "unknown" {
  const { value, normal, limitLow, limitHigh } = reading;
  if (value === null || !Number.isFinite(value)) return "unknown";
  if ((limitLow !== null && value < limitLow) || (limitHigh !== null && value > limitHigh))
    return "past limit";
  if (normal === null) return "unknown";
  return value < normal.low || value > normal.high ? "outside" : "normal";
}
