import { quantityText } from "../dashboard/reading-text.ts";
import { channelWords } from "../dashboard/words.ts";
import type { Unit } from "../fleet/unit.ts";
import { hour } from "../terms/time.ts";
import { type Availability, toldShare } from "./availability.ts";
import { hoursText, type LocalTimes, percentText } from "./local.ts";
import type { Bounded } from "./running.ts";
import type { ServiceRow } from "./service-rows.ts";
import type { SignalReport } from "./unit-report.ts";

/** A length that summaries bound: with its bounds where they are more than a tenth of an hour apart. */
export function boundedText({ ms, leastMs, mostMs }: Bounded): string {
  if (mostMs - leastMs < hour / 10) return hoursText(ms);
  return `${hoursText(ms)} (${hoursText(leastMs)} to ${hoursText(mostMs)})`;
}

/** In place of a figure of a time of which nothing was read. */
export const noReading = "no reading in this period";

/** `97.4 %`, or why there is no such figure. How much is known goes beside it. */
export function availabilityText(availability: Availability): string {
  const { known } = availability;
  if (known === null) return "not required in this period";
  if (known === 0) return "not known: no readings";
  const share = toldShare(availability);
  return share === null ? "too little data" : percentText(share);
}

/** `vibration 2`: a channel, and which of its columns where it has several. */
export function signalWords({ channel, part }: Pick<SignalReport, "channel" | "part">, unit: Unit): string {
  const several = (unit.columns.channels[channel]?.length ?? 1) > 1;
  return several ? `${channelWords[channel]} ${part + 1}` : channelWords[channel];
}

/** What a plot shows, for those who do not see it; values as people see them. */
export function plotWords(
  { channel, points, baseline }: SignalReport,
  coverage: number,
  display: "si" | "us",
): string {
  const value = (stored: number): string => quantityText(channel, stored, display);
  const least = value(Math.min(...points.map((point) => point.least)));
  const most = value(Math.max(...points.map((point) => point.most)));
  const first = value(points[0].mean);
  const last = value(points[points.length - 1].mean);
  const clean = baseline === null ? "No baseline." : `Its baseline at clean running is ${value(baseline)}.`;
  return `Between ${least} and ${most}; mean ${first} at the beginning and ${last} at the end. ${clean} Something was read in ${percentText(coverage)} of the period.`;
}

/** When a work was done. */
export function serviceTime({ fromMs, toMs, outcome }: ServiceRow, times: LocalTimes): string {
  if (toMs === null) return `since ${times.moment(fromMs)}`;
  if (toMs === fromMs) return times.moment(fromMs);
  const until = times.date(fromMs) === times.date(toMs) ? times.clock(toMs) : times.moment(toMs);
  return `${times.moment(fromMs)} – ${until}${outcome === "under way" ? " at the latest" : ""}`;
}

const outcomes: Readonly<Record<ServiceRow["outcome"], string>> = {
  done: "done",
  "under way": "under way",
  "ended by itself": "ended by itself; nobody has said that it was done",
  "taken back": "taken back",
  over: "over",
  planned: "planned",
  confirmed: "confirmed",
  "learned anew": "asked to be learned anew",
};

export function outcomeWords({ outcome }: ServiceRow): string {
  return outcomes[outcome];
}
