import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import { noTripWords } from "../dashboard/found-words.ts";
import { nowText } from "../dashboard/reading-text.ts";
import { answerWords, lastedWords } from "../dashboard/state-words.ts";
import { isActive, isOver, openAlarms, worstFirst } from "../dashboard/urgency.ts";
import { alarmWords } from "../dashboard/words.ts";
import { sentence, visible } from "../terms/text.ts";
import { type LocalTimes, localTimes } from "./local.ts";

/** `LM-03, Heron Bend`. */
export function placeOf({ id, site }: Pick<UnitView, "id" | "site">): string {
  return site === null ? visible(id) : `${visible(id)}, ${visible(site)}`;
}

/** A remark as it follows what it belongs to. */
export function remark(note: string | undefined): string {
  return note === undefined ? "" : `: ${visible(note)}`;
}

/**
 * What stands now, worst first: alarms that are active or wait to be acknowledged, units that cannot be read, and ground-fault devices that did not trip. Units of which word for
 * word the same is to be said are told together.
 */
export function wrongNow(view: FleetView): string[] {
  const times = localTimes(view.timezone, view.clockMs);
  const told = worstFirst(view).flatMap(({ unit }) => [
    ...(unit.problem === null ? [] : [{ unit, how: "CANNOT BE READ", what: visible(unit.problem) }]),
    ...(unit.found?.noTrip === undefined
      ? []
      : [{ unit, how: "NOW", what: `Ground-fault device ${noTripWords(unit.found.noTrip, times.moment)}.` }]),
    ...openAlarms(unit)
      .filter(({ priority }) => priority !== "prompt")
      .map((alarm) => ({
        unit,
        how: alarm.priority.toUpperCase(),
        what: alarmText(alarm, unit, view, times),
      })),
  ]);
  return [...Map.groupBy(told, ({ how, what }) => `${how}\n${what}`).values()].map(
    (alike) => `${alike[0].how} ${placesOf(alike.map(({ unit }) => unit))}: ${alike[0].what}`,
  );
}

/** `SB-02, SB-03, Sallowby reservoir; QM-05, Quillmere golf course`. */
function placesOf(units: readonly UnitView[]): string {
  return [...Map.groupBy(units, ({ site }) => site).values()]
    .map((there) =>
      [...there.slice(0, -1).map(({ id }) => visible(id)), placeOf(there[there.length - 1])].join(", "),
    )
    .join("; ");
}

function alarmText(alarm: AlarmView, unit: UnitView, view: FleetView, times: LocalTimes): string {
  const { returnedMs, acknowledged, message } = alarm;
  const head = alarmWords(alarm.alarm);
  if (!isActive(alarm) || isOver(alarm)) {
    const until = returnedMs === undefined ? "" : ` at ${times.moment(returnedMs)}`;
    return `${head}: back to normal${until}; nobody has acknowledged it.`;
  }
  const answer = acknowledged
    ? `acknowledged by ${visible(acknowledged.by)} at ${times.moment(acknowledged.atMs)}${remark(acknowledged.note)}`
    : "not acknowledged";
  const now = nowText(alarm, unit, view.display);
  return [
    `${head}${lastedWords(alarm, view.clockMs)}, ${answer}.`,
    visible(message),
    ...(now === "" ? [] : [`Reads now: ${now}.`]),
    `${sentence(answerWords(alarm, view.clockMs, times.moment))}.`,
  ].join(" ");
}

/** What people have shelved, and until when. */
export function shelved(view: FleetView): string[] {
  const times = localTimes(view.timezone, view.clockMs);
  return setAside(view, "shelved").map(
    ({ unit, aside, stands }) =>
      `${placeOf(unit)}: ${alarmWords(aside.alarm)} until ${times.moment(aside.untilMs ?? aside.atMs)}, by ${visible(aside.by)}${stands}${remark(aside.note)}`,
  );
}

/** What people have taken out of service, and since when. */
export function outOfService(view: FleetView): string[] {
  const times = localTimes(view.timezone, view.clockMs);
  return setAside(view, "out-of-service").map(
    ({ unit, aside, stands }) =>
      `${placeOf(unit)}: ${alarmWords(aside.alarm)} since ${times.moment(aside.atMs)}, by ${visible(aside.by)}${stands}${remark(aside.note)}`,
  );
}

/** What is set aside in one way; where all of a unit's alarms were by one word, as one line. */
function setAside(view: FleetView, state: "shelved" | "out-of-service") {
  return view.units.flatMap((unit) => {
    const here = unit.setAside.filter((aside) => aside.state === state);
    const active = new Set(unit.alarms.filter((alarm) => alarm.state === state).map(({ alarm }) => alarm));
    return [...Map.groupBy(here, ({ atMs, by, untilMs }) => `${atMs}/${untilMs}/${by}`).values()].flatMap(
      (together) => {
        const standing = together
          .filter(({ alarm }) => active.has(alarm))
          .map(({ alarm }) => alarmWords(alarm));
        if (together.length <= mostApart) {
          return together.map((aside) => ({
            unit,
            aside: { ...aside, alarm: aside.alarm as string },
            stands: active.has(aside.alarm) ? "; its condition stands now" : "",
          }));
        }
        const stands = standing.length === 0 ? "" : `; what stands now: ${standing.join(", ")}`;
        return [{ unit, aside: { ...together[0], alarm: `${together.length} alarms` }, stands }];
      },
    );
  });
}

const mostApart = 3;
