import type { FleetView, Progress } from "../collector/fleet-view.ts";
import { age } from "../terms/time.ts";
import { blank, ends, type Line, line, lineWidth, type Span, span } from "./line.ts";
import { fullTime } from "./local-time.ts";
import { isPartlyJudged, partlyJudgedMark } from "./partly-judged.ts";
import { progressText } from "./progress-text.ts";
import { replayLine } from "./replay-line.ts";
import { unnotifiedWords } from "./unnotified.ts";
import { isUnheard, neededNow, openAlarms, type Urgency, urgencyOf } from "./urgency.ts";
import { truncate, widthOf } from "./width.ts";
import { alarmWords, catchingUpMark, priorityMark, stateMark } from "./words.ts";

/**
 * What stands on top of every screen: the fleet, the time of the data, whether to trust it as it is, and which units
 * need someone now that are not in sight: `inSight` is a unit's id, or the whole fleet.
 */
export function headLines(
  view: FleetView,
  silentMs: number,
  width: number,
  inSight: string | "the fleet" | null = null,
): readonly Line[] {
  const lines: Line[] = [
    ends([blank(1), span(view.fleet, "strong")], [span(`${fullTime(view.clockMs, view.timezone)} `)], width),
  ];
  if (view.demonstration !== undefined) {
    const { speed } = view.demonstration;
    const pace = speed === 1 ? "" : ` · time runs ${speed} × faster`;
    lines.push(line(` demonstration · invented fleet${pace}`));
  }
  if (view.replay !== undefined) lines.push(replayLine(view.replay, view, width));
  if (view.catchingUp !== undefined) lines.push(progressLine(view.catchingUp, width));
  const unnotified = unnotifiedWords(view);
  if (unnotified !== null) lines.push(line(` ${unnotified} `, "selected"));
  if (silentMs > 0)
    lines.push(line(` This screen is ${age(silentMs)} old: nothing newer has come. `, "selected"));
  return inSight === "the fleet" ? lines : [...lines, ...nowLines(view, width, inSight)];
}

/** `■ 2 now: POND-A Lost prime · POND-B Overheating`: the units that need someone now but for one; no line where there is none. */
export function nowLines(view: FleetView, width: number, but: string | null = null): readonly Line[] {
  const units = neededNow(view).filter(({ id }) => id !== but);
  if (units.length === 0) return [];
  const words = units.map((unit) => {
    const worst = openAlarms(unit)[0];
    if (unit.problem !== null) return `${unit.id} Cannot be read`;
    return `${unit.id} ${worst === undefined ? "Ground-fault device" : alarmWords(worst.alarm)}`;
  });
  const badge = ` ${priorityMark.high} ${units.length} `;
  const text = truncate(` now: ${words.join(" · ")}`, width - widthOf(badge) - 1);
  return [[blank(1), span(badge, "high"), span(text)]];
}

function progressLine(progress: Progress, width: number): Line {
  const how = line(` reading the logs: ${progressText(progress)}`);
  const what = line("not yet up to now ");
  return lineWidth(how) + lineWidth(what) + 2 > width ? how : ends(how, what, width);
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
  const behind = count.get("catching up") ?? 0;
  const partly = view.units.filter((unit) => urgencyOf(unit) === "quiet" && isPartlyJudged(unit)).length;
  const unheard = view.units.filter(isUnheard).length;
  const quiet = (count.get("quiet") ?? 0) - partly - unheard;
  if (pieces.length === 0) pieces.push(span(nobody(quiet, partly, behind + unheard)));
  const planned = count.get("planned work") ?? 0;
  const aside = count.get("set aside") ?? 0;
  if (planned > 0) pieces.push(span(`  ${priorityMark.prompt} ${planned} planned`));
  if (aside > 0) pieces.push(span(`  · ${aside} set aside`));
  pieces.push(span(`  ${quiet} quiet`));
  if (partly > 0) pieces.push(span(`  ${partlyJudgedMark} ${partly} partly judged`));
  if (unheard > 0) pieces.push(span(`  ${stateMark["no readings"]} ${unheard} without readings yet`));
  if (behind > 0) pieces.push(span(`  ${catchingUpMark} ${behind} catching up`));
  return pieces;
}

/** What can be said where no unit is known to need someone: of those catching up or without readings nothing is known. */
function nobody(quiet: number, partly: number, unknown: number): string {
  if (unknown === 0) return partly === 0 ? " nobody is needed" : " nobody is known to be needed";
  return quiet + partly === 0 ? " nothing known yet" : " nobody is needed so far";
}

/** A thin rule between the parts of a screen. */
export function rule(width: number): Line {
  return line("─".repeat(width), "dim");
}
