import { day, minute } from "../terms/time.ts";
import { blank, type Line, span } from "./line.ts";
import { clockTime, localDate } from "./local-time.ts";
import { markedRow } from "./reading-mark.ts";
import { padEnd, widthOf } from "./width.ts";

const steps = [1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720].map((minutes) => minutes * minute);
const daySteps = [1, 2, 4, 7, 14, 28, 56];
const roomPerLabel = 9;

export interface Tick {
  readonly column: number;
  readonly label: string;
}

/**
 * Round local times across `width` columns from `fromMs` to `toMs`, as far apart as their labels need;
 * local midnight bears its date. Every civil offset is a multiple of 15 min today, so full UTC minutes
 * are full local minutes.
 */
export function ticksOf(fromMs: number, toMs: number, width: number, timezone: string): readonly Tick[] {
  const reach = toMs - fromMs;
  const step = steps.find((each) => (width * each) / reach >= roomPerLabel);
  if (step === undefined) return daysOf(fromMs, toMs, width, timezone);
  const stride = Math.min(step, 15 * minute);
  const ticks: Tick[] = [];
  for (let timeMs = Math.ceil(fromMs / stride) * stride; timeMs < toMs; timeMs += stride) {
    const label = clockTime(timeMs, timezone);
    const minutes = Number(label.slice(0, 2)) * 60 + Number(label.slice(3));
    if (minutes % (step / minute) !== 0) continue;
    const column = Math.floor(((timeMs - fromMs) / reach) * width);
    ticks.push({ column, label: minutes === 0 ? localDate(timeMs, timezone) : label });
  }
  return ticks;
}

/** Local midnights, as many days apart as their labels need. */
function daysOf(fromMs: number, toMs: number, width: number, timezone: string): readonly Tick[] {
  const reach = toMs - fromMs;
  const days = daySteps.find((each) => (width * each * day) / reach >= roomPerLabel) ?? 365;
  const ticks: Tick[] = [];
  for (let number = Math.ceil(fromMs / day / days - 1) * days; number * day < toMs + day; number += days) {
    const timeMs = midnightNear(number * day, timezone);
    if (timeMs < fromMs || timeMs >= toMs) continue;
    ticks.push({
      column: Math.floor(((timeMs - fromMs) / reach) * width),
      label: localDate(timeMs, timezone),
    });
  }
  return ticks;
}

/** The local midnight nearest to `timeMs`; twice, since the clocks may be put forward or back in between. */
function midnightNear(timeMs: number, timezone: string): number {
  let ms = timeMs;
  for (let again = 0; again < 2; again++) {
    const label = clockTime(ms, timezone);
    const minutes = Number(label.slice(0, 2)) * 60 + Number(label.slice(3));
    ms += (minutes > 12 * 60 ? 24 * 60 - minutes : -minutes) * minute;
  }
  return ms;
}

/** The axis under the charts: a row of ticks and a row of local times. */
export function timeAxis(
  fromMs: number,
  toMs: number,
  width: number,
  indent: number,
  timezone: string,
  mark: number | null = null,
): readonly Line[] {
  const ticks = ticksOf(fromMs, toMs, width, timezone);
  const cells = Array.from({ length: width }, () => "─");
  let labels = "";
  for (const { column, label } of ticks) {
    cells[column] = "┴";
    const at = Math.max(0, column - 2);
    if (widthOf(labels) > at || at + widthOf(label) > width) continue;
    labels = padEnd(labels, at) + label;
  }
  return [
    [blank(indent - 1), span("└"), ...markedRow(cells.join(""), mark, "dim")],
    [blank(indent), span(labels, "dim")],
  ];
}
