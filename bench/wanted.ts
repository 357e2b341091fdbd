import type { Figures } from "../src/score/figures.ts";
import type { Score } from "../src/score/score.ts";
import type { AlarmName } from "../src/terms/alarms.ts";
import type { Foretold } from "./heat-limit.ts";

/** What the rules are to reach, and what was measured; `null` where nothing was there to measure. */
export interface Wanted {
  readonly what: string;
  readonly wanted: string;
  readonly measured: string;
  readonly ok: boolean | null;
}

const second = 1000;
const minute = 60 * second;
const day = 24 * 60 * minute;

const digits = (x: number): string => x.toFixed(3);
const time = (ms: number): string =>
  ms < 10 * minute ? `${(ms / second).toFixed(0)} s` : `${(ms / day).toFixed(1)} d`;

function atLeast(what: string, least: number, measured: number | undefined): Wanted {
  const none = measured === undefined;
  return {
    what,
    wanted: `≥ ${least}`,
    measured: none ? "–" : digits(measured),
    ok: none ? null : measured >= least,
  };
}

function below(
  what: string,
  most: number,
  measured: number | null,
  show: (x: number) => string = digits,
): Wanted {
  return {
    what,
    wanted: `< ${show(most)}`,
    measured: measured === null ? "–" : show(measured),
    ok: measured === null ? null : measured < most,
  };
}

/** Medians of the delay, ms. `of`: what the alarm's own definition lets pass before. */
const delays: readonly { readonly alarm: AlarmName; readonly mostMs: number; readonly ofMs?: number }[] = [
  { alarm: "lost-prime", mostMs: minute },
  { alarm: "not-running", mostMs: minute },
  { alarm: "ozone-while-stopped", mostMs: minute, ofMs: minute },
  { alarm: "cavitation", mostMs: 3 * minute },
  { alarm: "suction-air", mostMs: 3 * minute },
  { alarm: "discharge-restricted", mostMs: 3 * minute },
  { alarm: "discharge-open", mostMs: 3 * minute },
  { alarm: "ozone-off", mostMs: 3 * minute },
  { alarm: "gas-supply-low", mostMs: 3 * minute },
];

function delayOf(alarms: Score["alarms"], name: AlarmName): Figures["delayMedianMs"] {
  return alarms.find(({ alarm }) => alarm === name)?.figures.delayMedianMs ?? null;
}

/** Of a fleet with every kind of fault: recall, false alarms, first alarms, delays. */
export function wantedFaulty(score: Score): Wanted[] {
  const names = score.alarms.filter(({ figures }) => figures.faults > 0);
  return [
    atLeast("recall of all faults", 0.97, score.total.recall?.value),
    ...names.map(({ alarm, figures }) => atLeast(`recall of ${alarm}`, 0.9, figures.recall?.value)),
    below("false alarms a unit-day, faulty", 0.02, score.total.falsePerUnitDay),
    atLeast("first alarm names the fault", 0.95, score.firstAlarmRight?.value),
    ...delays.map(({ alarm, mostMs, ofMs = 0 }) => {
      const median = delayOf(score.alarms, alarm);
      const beyond = ofMs > 0 ? ` beyond its ${time(ofMs)}` : "";
      return below(
        `delay of ${alarm}${beyond}, median`,
        mostMs,
        median === null ? null : median - ofMs,
        time,
      );
    }),
  ];
}

export function wantedClean({ total }: Score): Wanted[] {
  return [
    below("false alarms a unit-day, clean", 0.01, total.falsePerUnitDay),
    below("high false alarms, clean", 1, total.falseBy.high, String),
  ];
}

/** A missed drift was told in no time at all. */
export function wantedDrift({ total }: Score, percentADay: number, days: number): Wanted {
  const what = `drift of ${percentADay} % a day, 95 % of delays`;
  const delay = below(what, days * day, total.delay95Ms, time);
  if (total.missed === 0) return delay;
  return { ...delay, measured: `${total.missed} of ${total.faults} missed`, ok: false };
}

/** The shares, of slow heat faults that reached their limit, that were told before; the rest is for the reader. */
export function wantedHeat({ foretold, reached }: Foretold): Wanted {
  return atLeast(
    "overheating told before its limit is reached, slow faults",
    0.9,
    reached === 0 ? undefined : foretold / reached,
  );
}

export function wantedExperiments({ f1, false_alarm_rate: rate }: Experiments): Wanted[] {
  return [
    atLeast("open experiments, F1 (aim 0.85)", 0.82, f1 ?? undefined),
    below("open experiments, false alarm rate (aim 0.135)", 0.2, rate),
  ];
}

/** What `score --label --json` says of all units. */
export interface Experiments {
  readonly f1: number | null;
  readonly false_alarm_rate: number | null;
}

/** A line each: `short` where it is not reached. */
export function wantedLines(list: readonly Wanted[]): string[] {
  const width = Math.max(...list.map(({ what }) => what.length));
  return list.map(({ what, wanted, measured, ok }) => {
    const verdict = ok === null ? "not measured" : ok ? "ok" : "short";
    return `${what.padEnd(width)}  wanted ${wanted.padEnd(8)}  measured ${measured.padEnd(8)}  ${verdict}`;
  });
}
