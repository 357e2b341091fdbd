import type { AlarmView, FleetView, ReadingView, UnitView } from "../../collector/fleet-view.ts";
import type { FleetItem, FleetLayout, FleetRow } from "../fleet-layout.ts";
import { noTripWords } from "../found-words.ts";
import { blank, type Line, line, span } from "../line.ts";
import { moment } from "../local-time.ts";
import { partlyJudgedWords } from "../partly-judged.ts";
import { quantityText, standing } from "../reading-text.ts";
import { answerWords, lastedWords } from "../state-words.ts";
import { asideShortly, asideTogether } from "../unit-people.ts";
import { isGone, openAlarms, urgencyOf } from "../urgency.ts";
import { wrap } from "../width.ts";
import { alarmStateWords, alarmWords, channelWords } from "../words.ts";

/** Units as sentences one after another, to be read out: no table, no scale, nothing side by side. */
export function linearLayout(view: FleetView, units: readonly UnitView[], width: number): FleetLayout {
  const rows: FleetRow[] = [];
  const items: FleetItem[] = [];
  const add = (content: Line): void => void rows.push({ cells: () => [content], cellWidth: width });
  for (const notice of view.notices) add(line(`note: ${notice}`));
  for (const unit of units) {
    const first = rows.length;
    const text = wrap(sentences(unit, view), Math.max(10, width - unit.id.length - 12));
    add([blank(1), blank(0), blank(0), span(unit.id, "strong"), span(`: ${text[0] ?? ""}`)]);
    for (const more of text.slice(1)) add(line(more));
    items.push({
      unit: unit.id,
      urgent: urgencyOf(unit) === "now",
      revealFrom: items.length === 0 ? 0 : first,
      first,
      last: rows.length - 1,
      cell: 0,
    });
  }
  return { rows, items, columns: 1, heading: { first: 0, rows: 0 } };
}

/** Everything of a unit that its rows show: what is wrong first, then its state and readings. */
function sentences(unit: UnitView, view: FleetView): string {
  const { state, sinceMs, site, problem, found, catchingUp, readings } = unit;
  const open = openAlarms(unit);
  const aside = unit.alarms.filter((alarm) => !open.includes(alarm));
  const since = sinceMs === null ? "" : ` since ${moment(sinceMs, view.clockMs, view.timezone)}`;
  const told = [
    ...(site === null ? [] : [site]),
    ...(found?.noTrip === undefined
      ? []
      : [
          `ground-fault device ${noTripWords(found.noTrip, (timeMs) => moment(timeMs, view.clockMs, view.timezone))}`,
        ]),
    ...(problem === null ? [] : [`cannot be read: ${problem}`]),
    ...open.map((alarm) => {
      const lasted = lastedWords(alarm, view.clockMs);
      const answered =
        alarm.state === "active-unacknowledged" ? "not acknowledged" : alarmStateWords[alarm.state];
      return `${alarm.priority} alarm, ${alarmWords(alarm.alarm)}${lasted}, ${answered}: ${alarm.message}`;
    }),
    ...(open[0] === undefined ? [] : [firstWords(open[0], view)]),
    ...aside.map(({ alarm, state: stands }) => `${alarmWords(alarm)} ${alarmStateWords[stands]}`),
    ...asideTogether(unit).map(asideShortly),
    partlyJudgedWords(unit) ?? "",
    `${catchingUp ? "not judged yet, " : ""}${state}${since}`,
    readings
      .filter(({ part }) => part === 0)
      .map((reading) => readingWords(reading, view))
      .join(", "),
  ];
  return told
    .filter((text) => text !== "")
    .map((text) => text.replace(/\.$/, ""))
    .join(". ");
}

/** What to do first; of what is over or about to clear, since when. */
function firstWords(alarm: AlarmView, view: FleetView): string {
  if (isGone(alarm))
    return answerWords(alarm, view.clockMs, (timeMs) => moment(timeMs, view.clockMs, view.timezone));
  const action = alarm.guidance.actions[0];
  return action === undefined ? "" : `do first: ${action}`;
}

function readingWords(reading: ReadingView, view: FleetView): string {
  const { channel, value, normal } = reading;
  const words = `${channelWords[channel]} ${value === null ? "not known" : quantityText(channel, value, view.display)}`;
  const place = standing(reading);
  if (place === "past limit") return `${words}, past its limit`;
  if (place !== "outside" || normal === null || value === null) return words;
  return `${words}, ${value < normal.low ? "below" : "above"} normal`;
}
