import { z } from "zod";
import { type Baseline, operating, someState } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { duration, quantity } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { priorities } from "../terms/alarms.ts";
import { channelIndex } from "../terms/channels.ts";
import { day, iso, minute } from "../terms/time.ts";
import type { Fouling } from "./fouling-forecast.ts";
import { hourOf, pointSpanMs } from "./fouling-points.ts";
import { type FoulingTrend, forget, gather, startFoulingTrend } from "./fouling-trend.ts";
import { gas } from "./gas.ts";
import { gasFlow, growthOf, judgedBy } from "./gas-growth.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  /** No delay of its own: a trend rests on days. */
  ...common({ delay: "0 s", off_delay: "0 s", priority: "low" }),
  /** While the cleaning is not due yet; never less urgent than this. */
  priority: z.enum(priorities).default("prompt"),
  /** Cleaning is due where gas pressure has risen, or the flow of a regulated feed fallen, by this share of clean (house choice). */
  rise_limit: z.number().gt(0).lt(1).default(0.25),
  /** Cleaning is due at this gas pressure instead: what the maker of cell or blower allows. */
  pressure_limit: quantity("kPa", { above: 0 }).optional(),
  /** A smaller rise is not told: gauges wander as much. */
  least_rise: z.number().gt(0).lt(1).default(0.02),
  /** A limit that is further off is not told: two rounds of monthly service will see it. */
  horizon: duration().default(60 * day),
  /** Low instead of prompt from so long before the limit: a week to plan the visit. */
  due_soon: duration().default(7 * day),
  /** After a start the gas line is wet and the motor cold. */
  settled_for: duration().default(30 * minute),
});

export type DriftSettings = z.output<typeof settings>;
type Settings = DriftSettings;

/** Gas pressure below which a share of it means nothing, kPa. */
const leastGasKPa = 1;

const waterTemperature = channelIndex.water_temperature;

/** Columns of `own`. */
const own = { at: 0, growth: 1, perDay: 2, due: 3, earliest: 4, latest: 5, outlasts: 6, columns: 7 } as const;

/** The parts of the day that a baseline was taken in. */
export function hoursOf(baseline: Baseline | null): number[] {
  if (baseline === null) return [];
  const { fromMs, toMs } = baseline;
  const hours = new Set<number>();
  const firstMs = fromMs - (fromMs % pointSpanMs);
  for (let timeMs = firstMs; timeMs < Math.min(toMs, fromMs + day); timeMs += pointSpanMs)
    hours.add(hourOf(timeMs));
  return [...hours];
}

/** The growth at which cleaning is due, a share of clean. */
export function limitShare(unit: Unit, clean: number, { rise_limit, pressure_limit }: Settings): number {
  return unit.gas.feed === "constant flow" && pressure_limit !== undefined
    ? pressure_limit / clean - 1
    : rise_limit;
}

/**
 * Gas pressure at comparable running has a significant rise: injector or line foul. A feed that does not hold its
 * flow shows it by less gas flow. Told with the date at which cleaning is due.
 */
export const gasPressureDrift: Rule<Settings, FoulingTrend> = {
  alarm: "gas-pressure-drift",
  version: 3,
  needs: ["motor_current", ["gas_pressure", "gas_flow"]],
  needsBaseline: true,
  settings,
  evidence: [
    { name: "gas_pressure", unit: "kPa", against: "baseline" },
    { name: "gas_flow", unit: "L/min", against: "baseline" },
    { name: "growth", unit: "%", against: "limit" },
    { name: "growth_per_day", unit: "%" },
    { name: "cleaning_due_in", unit: "d" },
  ],
  ownColumns: own.columns,
  restates: true,
  quiet(unit, baseline) {
    if (baseline === null) return undefined;
    const { signal, clean } = judgedBy(unit, baseline);
    if (signal === gasFlow) {
      return clean > 0
        ? undefined
        : `with a feed that is ${unit.gas.feed} fouling shows in the gas flow, which the log lacks`;
    }
    return clean >= leastGasKPa
      ? undefined
      : `its clean gas pressure is under ${leastGasKPa} kPa: a share of it means nothing`;
  },
  start: startFoulingTrend,
  serviced(memory, { work, step }) {
    const cleaned = work === "cleaning" && step !== "begin";
    if (cleaned) forget(memory);
    return cleaned;
  },
  run(memory, features, from, to, settings, met, mine) {
    const { unit, firstBaseline, state, timeMs, settledMs, value } = features;
    const { signal, clean } = judgedBy(unit, firstBaseline);
    const runs = someState(features, operating.running) && clean > 0;
    const limits = {
      limit: limitShare(unit, clean, settings),
      least: settings.least_rise,
      horizonMs: settings.horizon,
      cleanHours: runs ? hoursOf(firstBaseline) : [],
    };
    const growthAt = growthOf(features, signal, clean);
    const warmClean = centerOf(firstBaseline, waterTemperature) ?? Number.NaN;
    for (let row = from; row < to; row++) {
      const t = timeMs[row];
      if (
        runs &&
        t >= memory.nextMs &&
        state[row] === operating.running &&
        settledMs[row] >= settings.settled_for
      ) {
        const growth = growthAt(row);
        if (!Number.isNaN(growth))
          gather(memory, t, growth, value[waterTemperature][row] - warmClean, limits);
      }
      const { fouling } = memory;
      met[row] = fouling === null ? verdict.no : verdict.met;
      if (fouling === null) mine[row * own.columns + own.growth] = Number.NaN;
      else write(mine, row, fouling);
    }
  },
  priorityAt({ unit, firstBaseline, timeMs }, row, settings, mine) {
    const at = row * own.columns;
    if (mine[at + own.growth] >= limitShare(unit, judgedBy(unit, firstBaseline).clean, settings))
      return "medium";
    // A cleaning that did not work has to be looked into, whenever the limit may come.
    const failed = mine[at + own.outlasts] === 1;
    return failed || timeMs[row] >= mine[at + own.due] - settings.due_soon ? "low" : "prompt";
  },
  numbers({ unit, firstBaseline }, row, settings, mine) {
    const { signal, clean } = judgedBy(unit, firstBaseline);
    if (Number.isNaN(mine[row * own.columns + own.growth]))
      return new Array(2 * this.evidence.length).fill(Number.NaN);
    const [atMs, growth, perDay, dueMs, earliestMs, latestMs, outlasts] = mine.subarray(
      row * own.columns,
      (row + 1) * own.columns,
    );
    const byPressure = signal === gas;
    const now = clean * (byPressure ? 1 + growth : 1 - growth);
    const limit = limitShare(unit, clean, settings);
    const none = Number.NaN;
    return [
      ...(byPressure ? [now, clean, none, none] : [none, none, now, clean]),
      100 * growth,
      100 * limit,
      100 * perDay,
      none,
      growth >= limit ? none : Math.max(0, (dueMs - atMs) / day),
      none,
      clean * (byPressure ? 1 + limit : 1 - limit),
      dueMs,
      earliestMs,
      latestMs,
      outlasts,
    ];
  },
  say(
    [g, gClean, f, fClean, growth, limit, perDay, , , , at, dueMs, earliestMs, latestMs, outlasts],
    _unit,
    { value, against },
  ) {
    const [what, moved, channel] = Number.isNaN(g)
      ? (["Gas flow", "fell", "gas_flow"] as const)
      : (["Gas pressure", "rose", "gas_pressure"] as const);
    const [now, clean] = Number.isNaN(g) ? [f, fClean] : [g, gClean];
    const [reached, most] = against(channel, now, at);
    const rate = Number.isNaN(perDay) ? "" : `, by ${percent(perDay)} a day`;
    const left = outlasts === 1 ? " The recorded cleaning did not bring it back." : "";
    const said = `${what} at like running ${moved} from ${value(channel, clean)} to ${reached}${rate}`;
    if (growth >= limit)
      return `${said}: ${reached === most ? "at" : "past"} its limit of ${most}, cleaning is due.${left}`;
    if (Number.isNaN(dueMs)) return `${said}.${left}`;
    const isOpen = latestMs >= dueMs + 366 * day;
    const within = isOpen ? "its end is open yet" : `${date(earliestMs)} to ${date(latestMs)}`;
    const isOneDay = !isOpen && date(earliestMs) === date(latestMs);
    const when = isOneDay ? date(dueMs) : `${date(dueMs)} (${within})`;
    return `${said}: cleaning is due about ${when}, when it reaches ${most}.${left}`;
  },
};

function write(mine: Float64Array, row: number, fouling: Fouling): void {
  const at = row * own.columns;
  mine[at + own.at] = fouling.atMs;
  mine[at + own.growth] = fouling.growth;
  mine[at + own.perDay] = fouling.growthPerDay;
  mine[at + own.due] = fouling.dueMs;
  mine[at + own.earliest] = fouling.earliestMs;
  mine[at + own.latest] = fouling.latestMs;
  mine[at + own.outlasts] = fouling.outlastsCleaning ? 1 : 0;
}

const percent = (share: number) => `${Number(share.toPrecision(2))} %`;
const date = (timeMs: number) => iso(timeMs).slice(0, 10);
