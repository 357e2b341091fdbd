import type { FleetView } from "../collector/fleet-view.ts";
import { age } from "../terms/time.ts";
import { blank, ends, type Line, line, type Span, span } from "./line.ts";
import { fullTime } from "./local-time.ts";
import { type Urgency, urgencyOf } from "./urgency.ts";
import { priorityMark } from "./words.ts";

/** What stands on top of every screen: the fleet, the time of the data, and whether to trust it as it is. */
export function headLines(view: FleetView, silentMs: number, width: number): readonly Line[] {
  const lines: Line[] = [
    ends([blank(1), span(view.fleet, "strong")], [span(`${fullTime(view.clockMs, view.timezone)} `)], width),
  ];
  if (view.demonstration !== undefined) {
    const { speed } = view.demonstration;
    const pace = speed === 1 ? "" : ` · time runs ${speed} × faster`;
    lines.push(line(` demonstration · invented fleet${pace}`));
  }
  if (view.catchingUp !== undefined) lines.push(line(` ${progress(view.catchingUp)}`));
  if (silentMs > 0)
    lines.push(line(` This screen is ${age(silentMs)} old: nothing newer has come. `, "selected"));
  return lines;
}

function progress({ bytesRead, bytesTotal }: NonNullable<FleetView["catchingUp"]>): string {
  const percent = bytesTotal > 0 ? Math.floor((100 * bytesRead) / bytesTotal) : 0;
  const scale = bytesTotal >= 1e9 ? 1e9 : 1e6;
  const of = `${(bytesRead / scale).toFixed(1)} of ${(bytesTotal / scale).toFixed(1)} ${scale === 1e9 ? "GB" : "MB"}`;
  return `reading the logs: ${Math.min(99, percent)} % (${of}); what follows is not yet up to now`;
}

const counted = [
  ["now", priorityMark.high, "high", "now"],
  ["soon", priorityMark.medium, "medium", "soon"],
  ["next visit", priorityMark.low, "low", "at the next visit"],
] as const satisfies readonly (readonly [Urgency, string, Span["style"], string])[];

/** How many units need someone, by how soon. */
export function countLine(view: FleetView): Line {
  const count = new Map<Urgency, number>();
  for (const unit of view.units) {
    const urgency = urgencyOf(unit);
    count.set(urgency, (count.get(urgency) ?? 0) + 1);
  }
  const pieces: Span[] = [];
  for (const [urgency, mark, style, words] of counted) {
    const units = count.get(urgency) ?? 0;
    if (units > 0)
      pieces.push(
        span(pieces.length === 0 ? " needed: " : "  "),
        span(` ${mark} ${units} `, style),
        span(` ${words}`),
      );
  }
  if (pieces.length === 0) pieces.push(span(" nobody is needed"));
  const planned = count.get("planned work") ?? 0;
  const aside = count.get("set aside") ?? 0;
  if (planned > 0) pieces.push(span(`  ${priorityMark.prompt} ${planned} planned`));
  if (aside > 0) pieces.push(span(`  · ${aside} set aside`));
  pieces.push(span(`  ${count.get("quiet") ?? 0} quiet`));
  return pieces;
}

/** A thin rule between the parts of a screen. */
export function rule(width: number): Line {
  return line("─".repeat(width), "dim");
}
