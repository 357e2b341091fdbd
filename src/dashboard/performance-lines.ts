import type {
  Acknowledgement,
  Counting,
  Held,
  Needs,
  PerformanceView,
  Verdict,
} from "../collector/read-performance.ts";
import { countedPriorities } from "../terms/alarms.ts";
import { counted } from "../terms/text.ts";
import { age, day } from "../terms/time.ts";

/** A figure beside the standards', in words. */
export interface FigureRow {
  readonly what: string;
  readonly here: string;
  readonly standard: string;
  readonly verdict: Verdict;
}

/** Lists under the table; each line is a row of text. */
export interface PerformanceText {
  readonly title: string;
  readonly figures: readonly FigureRow[];
  readonly lists: readonly { readonly title: string; readonly lines: readonly string[] }[];
}

/** The standards ask for a window at least so long. */
const shortestMs = 30 * day;

const words: Readonly<Record<Held["figure"], string>> = {
  perDay: "alarms a day",
  perHour: "alarms an hour",
  perTenMinutes: "alarms in 10 min, mean",
  mostInTenMinutes: "alarms in 10 min, most",
  busyPeriods: "10 min with more than 10",
  busyHours: "hours with more than 30",
  inFlood: "time in floods",
  chattering: "chattering: 3 in 1 min",
  repeating: "4 or more within 1 h",
  fleeting: "fleeting: under 1 min",
  mostStaleOnADay: "stale on the worst day",
  mostFrequentShare: "the ten most frequent",
};

/** A window's figures in words; `askedMs`: how long a window was asked for. */
export function performanceText(figures: PerformanceView, askedMs: number): PerformanceText {
  const spanMs = figures.toMs - figures.fromMs;
  const all = figures.acknowledgement.all;
  return {
    title: [
      `${counted(figures.announced, "alarm")} announced in ${age(spanMs)}`,
      ...(spanMs < askedMs ? ["nothing is kept from before"] : []),
      ...(spanMs < shortestMs ? ["the standards ask for 30 d at least"] : []),
    ].join("; "),
    figures: [...figures.held.map(rowOf), priorityRow(figures)],
    lists: [
      {
        title: `Time to acknowledge (${all.acknowledged} acknowledged, ${all.unacknowledged} not)`,
        lines: countedPriorities.flatMap((priority) =>
          answerLines(priority, figures.acknowledgement[priority]),
        ),
      },
      { title: "At the end of the window", lines: endLines(figures) },
      { title: "Not announced when raised", lines: notAnnouncedLines(figures) },
      sources("Most frequent", figures.mostFrequent),
      sources("Fleeting", figures.fleeting),
      sources("Chattering", figures.chattering),
      sources("Raised 4 times or more within an hour", figures.repeating),
      sources("Stale at the end of the window", figures.stale),
      { title: "Too few data here; judged from", lines: tooFewLines(figures) },
    ].filter(({ lines }) => lines.length > 0),
  };
}

/** What the standards' figures are for. */
export const forWhom =
  "The standards' figures are for one operator's place, a staffed console: of several people each has a share of these alarms; someone with a van has far less time.";

function rowOf(held: Held): FigureRow {
  const show = held.unit === "share" ? percent : number;
  return {
    what: words[held.figure],
    here: show(held.value),
    standard: standardText(held, show),
    verdict: held.verdict,
  };
}

function standardText({ acceptable, below, manageable, house }: Held, show: (x: number) => string): string {
  if (acceptable === 0) return house ? "none (house choice)" : "none";
  if (manageable === undefined) return `${below ? "under" : "at most"} ${show(acceptable)}`;
  return `${below ? "under" : "about"} ${show(acceptable)}, at most ${show(manageable)}`;
}

const priorityWords = "low, medium, high";

function priorityRow({ byPriority, priorities }: PerformanceView): FigureRow {
  const shares = (of: Readonly<Record<"low" | "medium" | "high", number>>) =>
    `${[of.low, of.medium, of.high].map((share) => (100 * share).toFixed(0)).join(", ")} %`;
  return {
    what: priorityWords,
    here: shares(byPriority),
    standard: `about ${shares(priorities.meant)}`,
    verdict: priorities.verdict,
  };
}

/** What is not judged, by what it needs. */
function tooFewLines({ held, priorities }: PerformanceView): string[] {
  const all = [
    ...held.map(({ figure, ...rest }) => ({ what: words[figure], ...rest })),
    { what: priorityWords, ...priorities },
  ].filter(({ verdict }) => verdict === "too few data");
  return [...Map.groupBy(all, ({ needs }) => needText(needs))].map(
    ([need, figures]) => `${need}: ${figures.map(({ what }) => what).join("; ")}`,
  );
}

function needText(needs: Needs): string {
  return "spanMs" in needs ? age(needs.spanMs) : `${needs.alarms} alarms`;
}

function answerLines(
  priority: string,
  { acknowledged, unacknowledged, medianMs, ninetiethMs }: Acknowledgement,
): string[] {
  if (acknowledged + unacknowledged === 0) return [];
  const ninetieth = ninetiethMs === null ? "" : `, 9 of 10 within ${age(ninetiethMs)}`;
  const waits =
    medianMs === null ? "none acknowledged" : `half within ${age(medianMs)}${ninetieth}, of ${acknowledged}`;
  return [`${priority}: ${waits}; ${unacknowledged} not acknowledged`];
}

function endLines({ atEnd }: PerformanceView): string[] {
  const standing = countedPriorities.map((priority) => `${atEnd.standing[priority]} ${priority}`).join(", ");
  return [
    `standing: ${standing}; ${atEnd.unacknowledged} of them not acknowledged`,
    `set aside: ${atEnd.shelved} shelved, ${atEnd.outOfService} out of service, ${atEnd.suppressed} suppressed`,
  ];
}

function notAnnouncedLines({ notAnnounced, timesShelved, timesOutOfService }: PerformanceView): string[] {
  const { whileShelved, whileOutOfService, suppressed } = notAnnounced;
  return [
    `${whileShelved} while shelved, ${whileOutOfService} while out of service, ${suppressed} suppressed`,
    `people shelved ${timesShelved} ×, took out of service ${timesOutOfService} ×`,
  ];
}

function sources(title: string, all: readonly (Counting | Omit<Counting, "times">)[]) {
  const lines = all.map((one) => `${"times" in one ? `${one.times} ×  ` : ""}${one.unit} ${one.alarm}`);
  return { title, lines };
}

const percent = (share: number): string =>
  `${Number.isInteger(100 * share) ? 100 * share : (100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
const number = (x: number): string =>
  Number.isInteger(x) ? String(x) : x >= 100 ? x.toFixed(0) : x.toPrecision(2);
