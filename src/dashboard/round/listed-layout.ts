import type { FleetView, UnitView } from "../../collector/fleet-view.ts";
import type { FleetItem, FleetLayout, FleetRow } from "../fleet-layout.ts";
import { emptyLine, type Line, line, span } from "../line.ts";
import { moment } from "../local-time.ts";
import { partlyJudgedMark, partlyJudgedWords } from "../partly-judged.ts";
import { quietColumns, quietHeading, quietRow } from "../quiet-table.ts";
import { lastedWords, messageWords } from "../state-words.ts";
import { asideShortly, asideTogether } from "../unit-people.ts";
import { isActive, openAlarms, urgencyOf } from "../urgency.ts";
import { truncate, widthOf } from "../width.ts";
import { alarmStateWords, alarmWords, priorityMark, priorityStyle } from "../words.ts";

/** Longer rows tire the eye. */
const widest = 140;
const indent = "     ";

/** Units a row each under their titles, with a second row for what is wrong with them. */
export function listedLayout(
  view: FleetView,
  groups: readonly { readonly title: string | null; readonly units: readonly UnitView[] }[],
  width: number,
): FleetLayout {
  const cellWidth = Math.min(width, widest);
  const rows: FleetRow[] = [];
  const items: FleetItem[] = [];
  const addLater = (content: () => Line): number => rows.push({ cells: () => [content()], cellWidth }) - 1;
  const add = (content: Line): number => addLater(() => content);
  const all = groups.flatMap(({ units }) => units);
  if (all.length === 0) return { rows, items, columns: 1, heading: { first: 0, rows: 0 } };
  for (const notice of view.notices) add(line(`  note: ${notice}`));
  const table = quietColumns(all, view.display, cellWidth);
  const headingFirst = rows.length;
  for (const content of quietHeading(table, "")) add(content);
  const heading = { first: headingFirst, rows: rows.length - headingFirst };
  for (const { title, units } of groups) {
    let revealFrom = rows.length;
    if (title !== null) {
      if (items.length > 0) add(emptyLine);
      revealFrom = add(line(` ${title}`, "strong"));
    }
    for (const unit of units) {
      const first = addLater(() => quietRow(unit, table, view.clockMs, view.timezone));
      const wrong = wrongLine(unit, view, cellWidth);
      if (wrong !== null) add(wrong);
      items.push({
        unit: unit.id,
        urgent: urgencyOf(unit) === "now",
        revealFrom: items.length === 0 ? 0 : Math.max(0, Math.min(revealFrom, first) - heading.rows),
        first,
        last: rows.length - 1,
        cell: 0,
      });
      revealFrom = rows.length;
    }
  }
  return { rows, items, columns: 1, heading };
}

/** The worst alarm with its age and how many more there are, else what cannot be judged; null where nothing is wrong. */
function wrongLine(unit: UnitView, view: FleetView, width: number): Line | null {
  const { problem, problemPriority } = unit;
  if (problem !== null) {
    const badge = span(` ${priorityMark[problemPriority]} `, priorityStyle[problemPriority]);
    return cut([span("  "), badge, span(" Cannot be read", "strong"), span(`: ${problem}`)], width);
  }
  const [worst, ...others] = openAlarms(unit);
  if (worst === undefined) {
    const partly = partlyJudgedWords(unit);
    const words = [
      ...unit.alarms.map(({ alarm, state, by }) => {
        const cause = by === null ? "" : ` by ${by.replaceAll("-", " ")}`;
        return `${alarmWords(alarm)} ${alarmStateWords[state]}${cause}`;
      }),
      ...asideTogether(unit).map(asideShortly),
    ];
    if (words.length === 0)
      return partly === null ? null : cut([span(`  ${partlyJudgedMark}  ${partly}`)], width);
    return cut([span(`${indent} ${words.join(" · ")}`)], width);
  }
  const { alarm, priority, state } = worst;
  const active = isActive(worst);
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  return cut(
    [
      span("  "),
      span(` ${priorityMark[priority]} `, active ? priorityStyle[priority] : "plain"),
      span(` ${alarmWords(alarm)}`, "strong"),
      span(lastedWords(worst, view.clockMs)),
      span(state === "active-unacknowledged" ? "" : ` · ${alarmStateWords[state]}`),
      span(others.length === 0 ? "" : ` · ${others.length} more`),
      span(`: ${messageWords(worst, view.clockMs, at)}`),
    ],
    width,
  );
}

function cut(content: Line, width: number): Line {
  let left = width;
  return content.map(({ text, style }) => {
    const kept = truncate(text, left);
    left -= widthOf(kept);
    return { text: kept, style };
  });
}
