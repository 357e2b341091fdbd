import type { Performance } from "../assess/performance.ts";
import { age, day } from "../terms/time.ts";
import { table } from "./table.ts";

/** The standards ask for a window at least so long. */
const shortestMs = 30 * day;

const percent = (share: number): string => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
const number = (x: number): string => (x >= 100 ? x.toFixed(0) : x.toPrecision(2));

/**
 * A fleet's figures beside those that ANSI/ISA-18.2-2016, IEC 62682 and EEMUA 191 give for one operator's place,
 * with a verdict each. They were read in secondary texts; the largest of ten minutes from memory.
 */
export function performanceLines(p: Performance): string[] {
  const row = (what: string, value: string, target: string, isWell: boolean) => [
    what,
    value,
    target,
    isWell ? "within" : "over",
  ];
  const { byPriority: share, acknowledgedAfterMs: waits } = p;
  const rows = [
    ["", "here", "the standards", ""],
    row("alarms a day", number(p.perDay), "about 150, at most 300", p.perDay <= 300),
    row("alarms an hour", number(p.perHour), "about 6, at most 12", p.perHour <= 12),
    row("alarms in 10 min, mean", number(p.perTenMinutes), "about 1, at most 2", p.perTenMinutes <= 2),
    row("alarms in 10 min, most", String(p.mostInTenMinutes), "10", p.mostInTenMinutes <= 10),
    row("10 min with more than 10", percent(p.busyPeriods), "under 1 %", p.busyPeriods < 0.01),
    row(`time in ${p.floods.length} floods`, percent(p.inFlood), "under 1 %", p.inFlood < 0.01),
    row("chattering alarms", String(p.chattering.length), "none", p.chattering.length === 0),
    row("stale alarms", String(p.stale.length), "fewer than 5", p.stale.length < 5),
    row("the ten most frequent", percent(p.mostFrequentShare), "at most 5 %", p.mostFrequentShare <= 0.05),
    ["low, medium, high", [share.low, share.medium, share.high].map(percent).join(", "), "80, 15, 5 %", ""],
    [
      `${p.acknowledged} acknowledged after`,
      waits === null ? "–" : `${age(waits.median)}, 9 of 10 in ${age(waits.ninetieth)}`,
      "",
      "",
    ],
  ];
  const often = p.mostFrequent.map(({ unit, alarm, times }) => `  ${times} ×  ${unit} ${alarm}`);
  return [
    `${p.announced} alarms announced in ${age(p.toMs - p.fromMs)}${p.toMs - p.fromMs < shortestMs ? "; the standards ask for 30 d at least" : ""}`,
    ...table(rows),
    ...(often.length === 0 ? [] : ["most frequent", ...often]),
  ];
}
