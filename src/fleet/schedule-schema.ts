import { z } from "zod";
import { takes } from "./json-schema.ts";
import { handOn, understood } from "./schema.ts";
import type { RunSchedule } from "./unit.ts";

const window = /^(\d{2}):(\d{2})\s*-\s*(\d{2}):(\d{2})$/;
const span = /^(\d{2})-(\d{2})\s*\.\.\s*(\d{2})-(\d{2})$/;
const daysOfMonth = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** `05:30-21:00` in minutes after midnight; undefined where it is none, or begins when it ends. */
export function parseWindow(text: string): { from: number; to: number } | undefined {
  const [hourFrom, minuteFrom, hourTo, minuteTo] = (window.exec(text) ?? []).slice(1).map(Number);
  if (hourFrom === undefined || minuteFrom === undefined) return undefined;
  if (hourTo === undefined || minuteTo === undefined) return undefined;
  const from = hourFrom * 60 + minuteFrom;
  const to = hourTo * 60 + minuteTo;
  const exists = minuteFrom < 60 && minuteTo < 60 && from < 24 * 60 && to <= 24 * 60;
  return exists && from !== to ? { from, to } : undefined;
}

function parseSeason(text: string): { from: number; to: number } | undefined {
  const [monthFrom, dayFrom, monthTo, dayTo] = (span.exec(text) ?? []).slice(1).map(Number);
  if (monthFrom === undefined || dayFrom === undefined) return undefined;
  if (monthTo === undefined || dayTo === undefined) return undefined;
  const exists = (month: number, day: number) => day >= 1 && day <= (daysOfMonth[month - 1] ?? 0);
  if (!exists(monthFrom, dayFrom) || !exists(monthTo, dayTo)) return undefined;
  return { from: monthFrom * 100 + dayFrom, to: monthTo * 100 + dayTo };
}

const windows = z.array(understood(parseWindow, "a daily window", "05:30-21:00")).min(1);

/** When a unit should run: `always`, `never`, or daily windows. */
export const runs: z.ZodType<RunSchedule> = takes(
  z.unknown().transform((value, context): RunSchedule => {
    if (value === "always" || value === "never") return { kind: value };
    if (Array.isArray(value)) return { kind: "windows", windows: handOn(windows, value, context) };
    const one = understood(parseWindow, "always, never or daily windows", 'always, or ["05:30-21:00"]');
    return { kind: "windows", windows: [handOn(one, value, context)] };
  }),
  () => z.union([z.enum(["always", "never"]), z.string(), windows]),
);

/** First and last day of the season, as month × 100 + day. */
export const season = understood(parseSeason, "a season", "04-01..11-15");
