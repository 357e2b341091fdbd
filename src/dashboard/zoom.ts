import { day, hour, minute } from "../terms/time.ts";

/** How much time the charts show. */
export const zooms = [
  { words: "15 min", ms: 15 * minute },
  { words: "30 min", ms: 30 * minute },
  { words: "1 hour", ms: hour },
  { words: "2 hours", ms: 2 * hour },
  { words: "4 hours", ms: 4 * hour },
  { words: "8 hours", ms: 8 * hour },
  { words: "12 hours", ms: 12 * hour },
  { words: "24 hours", ms: day },
  { words: "2 days", ms: 2 * day },
  { words: "4 days", ms: 4 * day },
  { words: "7 days", ms: 7 * day },
  { words: "14 days", ms: 14 * day },
  { words: "30 days", ms: 30 * day },
  { words: "60 days", ms: 60 * day },
  { words: "90 days", ms: 90 * day },
] as const;

export const firstZoom = 4;

export function zoomOf(index: number): { readonly words: string; readonly ms: number } {
  return zooms[Math.max(0, Math.min(zooms.length - 1, index))] ?? zooms[firstZoom];
}
