import type { UnitView } from "../../collector/fleet-view.ts";
import { rule } from "../head.ts";
import { blank, emptyLine, ends, type Line, line, span } from "../line.ts";
import { paragraph } from "../section.ts";
import { padEnd, truncate, truncateStart, widthOf, wrap } from "../width.ts";
import { alarmStateWords, alarmWords, priorityMark, priorityStyle } from "../words.ts";
import { actionIn, actions } from "./actions.ts";
import type { Prepared, Speaking } from "./prepared.ts";
import { offered } from "./typed-line.ts";

/** So many rows of the screen stay in sight above what is typed. */
const leftInSight = 6;

/** The rows in which a line is typed: whose alarms, what can be said, what is wrong, the line itself. */
export function typingRows(
  text: string,
  problem: string | null,
  speaking: Speaking,
  width: number,
  height: number,
): readonly Line[] {
  const { unit, by } = speaking;
  const site = unit.site === null ? "" : ` · ${unit.site}`;
  const action = actionIn(text);
  const below =
    problem !== null
      ? strongly(problem, width)
      : action === undefined
        ? []
        : [line(` ${action.name} ${action.needs}: ${action.does}`, "dim")];
  const room = Math.max(1, height - leftInSight - 3 - below.length);
  const all = offered(text, speaking).map((name) =>
    action === undefined ? actionRow(name) : offerRow(name, unit),
  );
  const shown = all.length > room ? all.slice(0, room - 1) : all;
  const more = all.length - shown.length;
  const prompt = ` ${truncate(by, 20)} says: `;
  return [
    rule(width),
    ends(
      [blank(1), span(unit.id, "strong"), span(site)],
      [span("Tab completes · Enter says it · Esc leaves ", "dim")],
      width,
    ),
    ...shown,
    ...(more > 0 ? [line(` … ${more} more: type to narrow`, "dim")] : []),
    ...below,
    [span(prompt, "strong"), span(`${truncateStart(text, width - widthOf(prompt) - 2)}_`)],
  ];
}

function actionRow(name: string): Line {
  const action = actions.find((known) => known.name === name);
  if (action === undefined) return emptyLine;
  return [
    span(` ${padEnd(action.name, 18)} `),
    span(padEnd(action.needs, 23)),
    span(` ${action.does}`, "dim"),
  ];
}

/** An alarm's name with how it stands at the unit; any other word as it is. */
function offerRow(name: string, { alarms, setAside }: UnitView): Line {
  const standing = alarms.find(({ alarm }) => alarm === name);
  if (standing !== undefined) {
    const { priority, state } = standing;
    return [
      span(` ${padEnd(name, 20)} `),
      span(` ${priorityMark[priority]} ${priority} `, priorityStyle[priority]),
      span(` ${alarmWords(name)}: ${alarmStateWords[state]}`, "dim"),
    ];
  }
  const aside = setAside.find(({ alarm }) => alarm === name);
  return [
    span(` ${padEnd(name, 20)} `),
    span(aside === undefined ? "" : ` ${alarmStateWords[aside.state]} by ${aside.by}`, "dim"),
  ];
}

/** The rows that ask whether something is meant. */
export function askingRows({ what, asks }: Prepared, width: number): readonly Line[] {
  return [
    rule(width),
    ...strongly(what, width),
    ...paragraph(" ", asks ?? "", width),
    [span(" c ", "selected"), span(" confirms it · any other key leaves it unsaid")],
  ];
}

/** A few words that must be seen, over as many rows as they take. */
export function strongly(text: string, width: number): readonly Line[] {
  return wrap(text, width - 2).map((row) => line(` ${row}`, "strong"));
}
