import type { Figures, Share } from "../score/figures.ts";
import { type PointCounts, pointRates } from "../score/points.ts";
import type { FirstAlarms, Score } from "../score/score.ts";
import { looksAtClock } from "../score/told.ts";
import type { Fault } from "../score/truth.ts";
import { alarmNames, priorities } from "../terms/alarms.ts";
import { counted, visible } from "../terms/text.ts";
import { iso, span } from "../terms/time.ts";
import { listed, toldLine } from "./score-lines.ts";
import { table } from "./table.ts";

function percent(part: number | null): string {
  return part === null ? "–" : `${(100 * part).toFixed(1)} %`;
}

function shareText(found: Share | null): string {
  if (found === null) return "–";
  const { value, low, high } = found;
  return `${value.toFixed(3)} (${low.toFixed(3)} to ${high.toFixed(3)})`;
}

function rate(perUnitDay: number | null): string {
  return perUnitDay === null ? "–" : perUnitDay.toFixed(4);
}

const delay = (ms: number | null): string => (ms === null ? "–" : span(ms));

const countHeads = [
  "faults",
  "caught",
  "missed",
  "delay median",
  "delay 95 %",
  "false",
  "a unit-day",
  "companions",
];

function countCells(of: Figures): string[] {
  return [
    String(of.faults),
    String(of.caught),
    String(of.missed),
    delay(of.delayMedianMs),
    delay(of.delay95Ms),
    String(of.falseAlarms),
    rate(of.falsePerUnitDay),
    String(of.companions),
  ];
}

const shareHeads = ["recall", "precision", "F1"];

function shareCells(of: Figures): string[] {
  return [shareText(of.recall), shareText(of.precision), shareText(of.f1)];
}

function faultLine({ unit, alarm, startMs, endMs }: Fault): string {
  return `${visible(unit)}  ${alarm}  ${iso(startMs)} to ${iso(endMs)}`;
}

/** Which first alarm the faults of each name had, a line a fault: its own, and which others came first. */
function firstAlarmTable(firstAlarms: readonly FirstAlarms[]): string[] {
  const counts = table([
    ["fault", "faults", "its own first", "none"],
    ...firstAlarms.map(({ fault, faults, first }) => [
      fault,
      ...[faults, first.get(fault) ?? 0, first.get(null) ?? 0].map(String),
    ]),
  ]);
  const others = firstAlarms.map(({ fault, first }) =>
    alarmNames.flatMap((alarm) =>
      alarm !== fault && first.has(alarm) ? [`${first.get(alarm)} ${alarm}`] : [],
    ),
  );
  return counts.map((line, i) => `${line}  ${i === 0 ? "another first" : others[i - 1].join(", ") || "·"}`);
}

/** A score as lines of plain text. */
export function scoreLines(score: Score): string[] {
  const { total, unitDays } = score;
  const touched = score.alarms.filter(
    ({ figures: f }) => f.faults + f.caught + f.falseAlarms + f.companions > 0,
  );
  const watched = touched.filter(({ alarm }) => !looksAtClock(alarm));
  const clocks = touched.filter(({ alarm }) => looksAtClock(alarm));
  const already = score.missed.filter(({ alreadyActive }) => alreadyActive).length;
  const faults = score.alarms.reduce((sum, { figures }) => sum + figures.faults, 0);
  return [
    `${counted(faults, "fault")}; ${
      unitDays === null
        ? "unit-days not known: add --fleet FLEET, or # units, # from and # to to the truth file"
        : `${Number(unitDays.toPrecision(4))} unit-days`
    }`,
    "",
    ...table([
      ["alarm", ...countHeads],
      ...watched.map(({ alarm, figures }) => [alarm, ...countCells(figures)]),
      ["all", ...countCells(total)],
    ]),
    `false alarms: ${priorities.map((priority) => `${total.falseBy[priority]} ${priority}`).join(", ")}`,
    "",
    ...table([
      ["95 % interval", ...shareHeads],
      ...watched.map(({ alarm, figures }) => [alarm, ...shareCells(figures)]),
      ["all", ...shareCells(total)],
    ]),
    ...(clocks.length === 0
      ? []
      : [
          "",
          "apart, since they look at a clock",
          ...table([
            ["alarm", ...countHeads],
            ...clocks.map(({ alarm, figures }) => [alarm, ...countCells(figures)]),
          ]),
          ...table([
            ["95 % interval", ...shareHeads],
            ...clocks.map(({ alarm, figures }) => [alarm, ...shareCells(figures)]),
          ]),
        ]),
    ...(score.firstAlarms.length === 0
      ? []
      : [
          "",
          `first alarm of each fault; it names the fault in ${shareText(score.firstAlarmRight)}`,
          ...firstAlarmTable(score.firstAlarms),
        ]),
    ...listed(
      already === 0 ? "missed" : `missed; at ${already} of them the alarm was active already`,
      score.missed.map(({ fault }) => faultLine(fault)),
    ),
    ...listed(
      "false alarms",
      score.falseAlarms.map(({ raise }) => toldLine(raise)),
    ),
  ];
}

/** A score row by row as lines of plain text; the last line is all units together. */
export function pointLines(
  units: readonly { readonly unit: string; readonly counts: PointCounts }[],
): string[] {
  return table([
    ["unit", "rows", "anomalous", "F1", "false alarm rate", "missed alarm rate"],
    ...units.map(({ unit, counts }) => {
      const { truePositive: tp, falsePositive: fp, falseNegative: fn, trueNegative: tn } = counts;
      const { f1, falseAlarmRate, missedAlarmRate } = pointRates(counts);
      return [
        visible(unit),
        String(tp + fp + fn + tn),
        String(tp + fn),
        f1 === null ? "–" : f1.toFixed(3),
        percent(falseAlarmRate),
        percent(missedAlarmRate),
      ];
    }),
  ]);
}
