import { npshFromWaterM, npshToProvideM, waterNpshMargins } from "../physics/npsh.ts";
import { primingTimeMin } from "../physics/priming.ts";
import { kpaPerMetreAt } from "../physics/water.ts";
import { carriedHeadM, type Installation, pipeHeadM, valvesIn } from "./installation.ts";
import { type Amounts, held, type Line, unknown } from "./line.ts";

const footM = 0.3048;
const standardAirKpa = 101.325;
/** Beyond it a pump needs a check valve or a foot valve to keep its water (common practice). */
const withoutValveM = 6 * footM;
/** Most that a self-priming pump lifts in practice at sea level; less in thinner air (common practice). */
const practicalLiftM = 25 * footM;
const primingAllowedMin = 5;
/** Air that a self-priming pump takes in, as a share of its rated flow, where its maker says nothing (house choice). */
const usualAirShare = 0.1;

const common = "common practice";
const lowestNpsh = "ANSI/HI 9.6.1";

export function suctionLines(site: Installation, a: Amounts): Line[] {
  return [liftLine(site, a), valveLine(site, a), ...npshLines(site, a), primingLine(site, a)];
}

/** The highest practical lift in the air of the place, m. */
function highestPracticalM({ airKpa }: Installation): number {
  return (practicalLiftM * airKpa) / standardAirKpa;
}

function liftLine(site: Installation, a: Amounts): Line {
  const lift = site.unit.piping.suctionLiftM;
  const most = a.length(highestPracticalM(site));
  const limit = { limit: most, sense: "at most" } as const;
  if (lift === undefined) return unknown("suction lift", common, ["piping.suction_lift"], limit);
  const high = "Set the pump lower or nearer to the water.";
  return held("suction lift", a.length(lift + site.fallsM), "at most", most, common, {
    verdict: "fail",
    note: `No self-priming pump is sure to lift so much here. ${high}`,
  });
}

function valveLine({ unit, fallsM }: Installation, a: Amounts): Line {
  const { suctionLiftM, checkValve, suctionFittings = {} } = unit.piping;
  const check = "check valve";
  if (suctionLiftM === undefined) return unknown(check, common, ["piping.suction_lift"]);
  const lift = suctionLiftM + fallsM;
  const valves = valvesIn(suctionFittings);
  const fitted = checkValve ?? (valves === undefined ? undefined : valves > 0);
  const most = a.length(withoutValveM);
  const text = fitted === true ? "fitted" : fitted === false ? "none" : "not said";
  const value = { ...a.length(lift), text };
  if (lift > withoutValveM && fitted === undefined) {
    return unknown(check, common, ["piping.check_valve"], { value, limit: most, sense: "at most" });
  }
  const line = held(check, value, "at most", { ...most, text: `${most.text} without` }, common, {
    verdict: "fail",
    note: "The pipe empties at every stop, and the pump has to prime anew: fit a check valve or a foot valve.",
  });
  return fitted === true ? { ...line, verdict: "pass", note: null } : line;
}

/** NPSH at the worst time of the year, and how far the water may fall until the margin is used up. */
function npshLines(site: Installation, a: Amounts): Line[] {
  const { unit, airKpa, suction, flow, fallsM, risesM } = site;
  const lift = unit.piping.suctionLiftM;
  const required = unit.pump.npshRequiredM;
  const missing = [
    ...(lift === undefined ? ["piping.suction_lift"] : []),
    ...(suction === null ? ["piping.suction_length", "piping.inside_diameter"] : []),
    ...(flow === null ? ["pump.rated_flow"] : []),
    ...(required === undefined ? ["pump.npsh_required"] : []),
  ];
  if (lift === undefined || suction === null || flow === null) {
    return [
      unknown("NPSH available", lowestNpsh, missing),
      unknown("water falls by", "NPSH margin", missing),
    ];
  }
  const at = (temperatureC: number, liftM: number): number =>
    npshFromWaterM({
      atmosphericKpa: airKpa,
      temperatureC,
      liftM,
      frictionM: pipeHeadM(suction, flow.lpm, temperatureC),
    });
  const worst = Math.min(
    ...[site.coldestC, site.warmestC].map((temperature) => at(temperature, lift + fallsM)),
  );
  const best = Math.max(
    ...[site.coldestC, site.warmestC].map((temperature) => at(temperature, lift - risesM)),
  );
  if (required === undefined) {
    return [
      unknown("NPSH available", lowestNpsh, missing, { value: a.length(worst) }),
      unknown("water falls by", "NPSH margin", missing),
    ];
  }
  const asked = npshToProvideM(required, waterNpshMargins.below7500);
  const highest = lift + fallsM + worst - asked;
  const highestKey = highest - fallsM;
  const change = `The highest lift that keeps the margin is ${a.length(highestKey).text}: set the pump lower, shorten or widen the suction pipe.`;
  const past =
    worst < required
      ? ({ verdict: "fail", note: `Less than the pump requires: it cavitates. ${change}` } as const)
      : ({ verdict: "caution", note: `Enough by the maker, but without the margin. ${change}` } as const);
  const npsh = held("NPSH available", a.length(worst), "at least", a.length(asked), lowestNpsh, past);
  const water = (celsius: number): string => a.channel("water_temperature", celsius).text;
  const levels = `the level ${a.length(fallsM).text} down to ${a.length(risesM).text} up`;
  const formula = `Air less vapour pressure as head, less lift and friction (DOE-HDBK-1018/1): ${a.length(worst).text} to ${a.length(best).text} over the year, water at ${water(site.coldestC)} to ${water(site.warmestC)}, ${levels}`;
  const most = Math.max(highest - lift, 0);
  return [
    {
      ...npsh,
      note:
        npsh.verdict === "pass"
          ? `${formula}; highest lift ${a.length(highestKey).text}.`
          : `${npsh.note} ${formula}.`,
    },
    held("water falls by", a.length(fallsM), "at most", a.length(most), "NPSH margin", {
      verdict: past.verdict,
      note: `Below that the margin of the NPSH is used up: set the pump lower.`,
    }),
  ];
}

function primingLine(site: Installation, a: Amounts): Line {
  const { unit, suction, airKpa, warmestC, fallsM } = site;
  const lift = unit.piping.suctionLiftM;
  const { airHandlingLpm, ratedFlowLpm } = unit.pump;
  const check = "priming time";
  const limit = a.minutes(primingAllowedMin);
  const air = airHandlingLpm ?? (ratedFlowLpm === undefined ? undefined : usualAirShare * ratedFlowLpm);
  if (lift === undefined || suction === null || air === undefined) {
    const missing = [
      ...(lift === undefined ? ["piping.suction_lift"] : []),
      ...(suction === null ? ["piping.suction_length", "piping.inside_diameter"] : []),
      ...(air === undefined ? ["pump.air_handling"] : []),
    ];
    return unknown(check, common, missing, { limit, sense: "at most" });
  }
  const time = primingTimeMin({
    volumeL: suction.lengthM * (Math.PI / 4) * suction.boreM * suction.boreM * 1000,
    liftM: lift + fallsM,
    airHeadM: Math.min(carriedHeadM(airKpa, warmestC), airKpa / kpaPerMetreAt(warmestC)),
    airLpm: air,
    highestLiftM: highestPracticalM(site),
  });
  const basis =
    airHandlingLpm === undefined
      ? `Taken: the pump draws in ${a.channel("flow", air).text} of air, a tenth of its rated flow; enter pump.air_handling.`
      : `Taken: the air drawn in falls evenly to none at the highest practical lift.`;
  return held(
    check,
    a.minutes(time),
    "at most",
    limit,
    common,
    {
      verdict: airHandlingLpm === undefined && Number.isFinite(time) ? "caution" : "fail",
      note: `Shorten the suction pipe or set the pump lower. ${basis}`,
    },
    basis,
  );
}
