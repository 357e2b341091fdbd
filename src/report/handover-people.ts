import type { FleetView } from "../collector/fleet-view.ts";
import { alarmWords } from "../dashboard/words.ts";
import { takesBack } from "../fleet/services.ts";
import { visible } from "../terms/text.ts";
import type { HandoverInput, OnRecord } from "./handover-input.ts";
import { placeOf, remark } from "./handover-now.ts";
import type { Heard } from "./heard.ts";
import { type LocalTimes, localTimes } from "./local.ts";

/** What people said and did since then, and what ended by itself, by time. */
export function done({ view, sinceMs, heard, services }: HandoverInput): string[] {
  const times = localTimes(view.timezone);
  const nowMs = view.clockMs;
  const told = [
    ...heard.map((one) => ({ timeMs: one.timeMs, text: heardLine(one, view, times) })),
    ...services.flatMap((one) => {
      const timeMs = one.saidMs ?? one.atMs;
      return timeMs <= nowMs ? [{ timeMs, text: serviceLine(one, view, times) }] : [];
    }),
  ];
  return told
    .filter(({ timeMs }) => timeMs >= sinceMs && timeMs <= nowMs)
    .toSorted((a, b) => a.timeMs - b.timeMs)
    .map(({ timeMs, text }) => `${times.moment(timeMs)} ${text}`);
}

function placed(id: string, view: FleetView): string {
  return placeOf(view.units.find((unit) => unit.id === id) ?? { id, site: null });
}

function heardLine(
  { unit, alarm, event, by, note, untilMs, already, except = [] }: Heard,
  view: FleetView,
  times: LocalTimes,
): string {
  const what = alarm === "all" ? "all alarms" : alarmWords(alarm);
  const but = except.length === 0 ? "" : ` but ${except.map(alarmWords).join(", ")}`;
  const until = untilMs === undefined ? "" : ` until ${times.moment(untilMs)}`;
  const who = by === undefined ? ": its time is over" : ` by ${visible(by)}`;
  const first =
    already === undefined ? "" : ` (${visible(already.by)} had, at ${times.moment(already.timeMs)})`;
  return `${placed(unit, view)}: ${what}${but} ${event.replaceAll("-", " ")}${who}${until}${first}${remark(note)}`;
}

const steps: Readonly<Record<OnRecord["step"], string>> = {
  begin: "begun",
  end: "ended",
  done: "done",
  lapse: "ended by itself; nobody has said that it was done",
  confirm: "confirmed",
  relearn: "asked to be learned anew",
};

function serviceLine(one: OnRecord, view: FleetView, times: LocalTimes): string {
  const { unit, work, step, atMs, untilMs, by, note, saidMs } = one;
  const who = by === undefined ? "" : ` by ${visible(by)}`;
  if (takesBack(one)) return `${placed(unit, view)}: ${work} taken back${who}`;
  const isPlan = work === "planned stop" && step === "begin" && saidMs !== undefined;
  if (isPlan) {
    const until = untilMs === undefined ? "" : ` until ${times.moment(untilMs)}`;
    return `${placed(unit, view)}: stop planned${who}, from ${times.moment(atMs)}${until}${remark(note)}`;
  }
  const earlier = saidMs !== undefined && saidMs - atMs >= 60_000 ? ` (at ${times.moment(atMs)})` : "";
  return `${placed(unit, view)}: ${work} ${steps[step]}${who}${earlier}${remark(note)}`;
}

/** Services and stops that are begun now. */
export function underWay(view: FleetView): string[] {
  const times = localTimes(view.timezone);
  return view.units.flatMap((unit) =>
    (unit.begun ?? []).map(({ work, atMs, untilMs, by, note }) => {
      const until = untilMs === undefined ? "" : `, ends by itself at ${times.moment(untilMs)}`;
      const who = by === undefined ? "" : `, by ${visible(by)}`;
      return `${placeOf(unit)}: ${work} since ${times.moment(atMs)}${until}${who}${remark(note)}`;
    }),
  );
}

/** Stops that are planned for a time to come, and not taken back. */
export function planned({ view, services }: HandoverInput): string[] {
  const times = localTimes(view.timezone);
  return services
    .filter(({ work, step, atMs }) => work === "planned stop" && step === "begin" && atMs > view.clockMs)
    .filter(
      (stop, _, stops) =>
        !takesBack(stop) &&
        !stops.some((one) => one.unit === stop.unit && one.atMs === stop.atMs && takesBack(one)),
    )
    .map(({ unit, atMs, untilMs, by, note }) => {
      const until = untilMs === undefined ? "" : ` until ${times.moment(untilMs)}`;
      const who = by === undefined ? "" : `, by ${visible(by)}`;
      return `${placed(unit, view)}: from ${times.moment(atMs)}${until}${who}${remark(note)}`;
    });
}
