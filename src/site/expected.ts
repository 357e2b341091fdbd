import { motorCurrentA, usualUnloadedShare } from "../physics/motor-current.ts";
import { velocityHeadM } from "../physics/pipe-flow.ts";
import { kpaPerMetreAt } from "../physics/water.ts";
import type { Channel } from "../terms/channels.ts";
import { isCurveImpossible, isLiftImpossible, outletInAirM } from "./geometry.ts";
import { type Installation, pipeHeadM, pumpHeadM } from "./installation.ts";
import { type Amounts, type Line, unknown } from "./line.ts";

/**
 * What a gauge may differ from what is reckoned, as a share (house choice): the friction of new pipe is known to a few
 * per cent, its bore to two, a pump's head to five (ISO 9906 grade 2B), a panel gauge to 2.5 % of its range.
 */
const share = 0.15;
/** At least so much, kPa: a pond falls and rises by half a metre, and a small gauge shows no less. */
const leastKpa = 5;
/** Loads at which motors are meant to work (DOE, Determining Electric Motor Load and Efficiency). */
const usualLoads = { from: 0.5, to: 1 } as const;

interface Expected {
  readonly value: number;
  readonly tolerance: number;
}

/** What the gauges ought to show at commissioning, held against what they did. */
export function expectedLines(site: Installation, a: Amounts): Line[] {
  const { suction, flow, unit } = site;
  const headM = pumpHeadM(site);
  const needs = [
    ...(unit.piping.suctionLiftM === undefined ? ["piping.suction_lift"] : []),
    ...(suction === null ? ["piping.suction_length", "piping.inside_diameter"] : []),
    ...(flow === null ? ["pump.rated_flow"] : []),
  ];
  const noVacuum = isLiftImpossible(site);
  const noPressure = noVacuum || isCurveImpossible(site) || outletInAirM(site) > 0;
  const vacuum = noVacuum ? null : suctionKpa(site);
  const discharge =
    noPressure || vacuum === null || headM === null ? null : vacuum + kpaPerMetreAt(site.usualC) * headM;
  const pressure = (kpa: number | null): Expected | null =>
    kpa === null ? null : { value: kpa, tolerance: Math.max(share * Math.abs(kpa), leastKpa) };
  return [
    line("vacuum", "suction_pressure", pressure(vacuum), noVacuum ? [] : needs, "pipe friction", site, a),
    line(
      "discharge pressure",
      "discharge_pressure",
      pressure(discharge),
      noPressure ? [] : needs.length > 0 ? needs : ["pump.rated_head"],
      "pump's head",
      site,
      a,
    ),
    currentLine(site, a),
  ];
}

/** At a gauge by the pump: the lift, what the pipe takes, and what moves the water. */
function suctionKpa({ unit, suction, flow, usualC }: Installation): number | null {
  const lift = unit.piping.suctionLiftM;
  if (lift === undefined || suction === null || flow === null) return null;
  const headM = lift + pipeHeadM(suction, flow.lpm, usualC) + velocityHeadM(flow.lpm, suction.boreM);
  return -kpaPerMetreAt(usualC) * headM;
}

function currentLine(site: Installation, a: Amounts): Line {
  const { motor, pump } = site.unit;
  const full = motor.fullLoadCurrentA;
  if (full === undefined) {
    return line("motor current", "motor_current", null, ["motor.full_load_current"], "nameplate", site, a);
  }
  const { from, to } = usualUnloadedShare;
  const at = (load: number, unloadedShare: number): number =>
    motorCurrentA({ fullLoadCurrentA: full, unloadedShare }, load);
  const [low, high] =
    pump.motorLoadPercent === undefined
      ? [at(usualLoads.from, from), at(usualLoads.to, to)]
      : [at(pump.motorLoadPercent / 100, from), at(pump.motorLoadPercent / 100, to)];
  const value = (low + high) / 2;
  const tolerance = Math.max((high - low) / 2, pump.motorLoadPercent === undefined ? 0 : 0.1 * value);
  const judged = line("motor current", "motor_current", { value, tolerance }, [], "nameplate", site, a);
  const measured = site.measured.motor_current;
  if (measured === undefined || measured.value <= full * (motor.serviceFactor ?? 1)) return judged;
  return {
    ...judged,
    verdict: "fail",
    note: "More than the nameplate allows: have voltage and load looked at. An electrician decides.",
  };
}

const withheldWords = "Its reading is of the unit as it is: what is tried changes what the gauge shows.";
const impossibleWords = "Nothing is expected of what cannot be: see the line impossible.";
const toRead = "Read the gauges and enter them as commissioning.";

const seek = {
  suction_pressure: {
    deeper: "a strainer, a valve or a kink in the suction",
    less: "air in the suction, or little flow",
  },
  discharge_pressure: {
    deeper: "a blocked generator or a shut valve",
    less: "a worn or blocked impeller, air, or an open line",
  },
  motor_current: { deeper: "low voltage, or a pump that rubs", less: "little flow, or air" },
} as const;

function line(
  check: string,
  channel: keyof typeof seek & Channel,
  expected: Expected | null,
  missing: readonly string[],
  source: string,
  { measured, withheld }: Installation,
  a: Amounts,
): Line {
  const seen = measured[channel];
  const value = seen === undefined ? null : a.channel(channel, seen.value);
  if (expected === null) {
    const note = missing.length === 0 ? { note: impossibleWords } : {};
    const line = unknown(check, source, missing, { value, ...note });
    return withheld.includes(channel) ? { ...line, note: `${withheldWords} ${line.note}` } : line;
  }
  const limit = a.expected(channel, expected.value, expected.tolerance);
  const known = { value, limit, sense: "about", source } as const;
  if (seen === undefined || value === null) {
    return withheld.includes(channel)
      ? unknown(check, source, [], { ...known, note: withheldWords })
      : unknown(check, source, ["commissioning"], { ...known, note: toRead });
  }
  const off = seen.value - expected.value;
  if (Math.abs(off) <= expected.tolerance)
    return { check, verdict: "pass", ...known, note: `As the ${seen.from} has it.`, enter: [] };
  const deeper = channel === "suction_pressure" ? off < 0 : off > 0;
  return {
    check,
    verdict: "caution",
    ...known,
    note: `The ${seen.from} has it otherwise. Look for ${seek[channel][deeper ? "deeper" : "less"]}; else correct the fleet file.`,
    enter: [],
  };
}
