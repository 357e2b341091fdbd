import { day, hour, minute, second } from "../terms/time.ts";
import type { Weather } from "./weather.ts";

/** The day that the sample logs hold ends at five in the afternoon, local time. */
export const recordedEndMs = Date.UTC(2026, 4, 4, 22);
export const recordedFromMs = recordedEndMs - day;
export const sampleIntervalMs = 30 * second;
export const demoTimezone = "America/Chicago";
export const demoSeed = 20_260_504;

const localOffsetMs = -5 * hour;

/** The first hot day of the year. */
export const demoWeather: Weather = { coolestC: 13, hottestC: 32, waterC: 18.5, localOffsetMs };

/** An instant of the recorded day's last date, from its local time `HH:MM`. */
export function localTime(clock: string): number {
  const [hours = 0, minutes = 0] = clock.split(":").map(Number);
  return Date.UTC(2026, 4, 4) - localOffsetMs + hours * hour + minutes * minute;
}
