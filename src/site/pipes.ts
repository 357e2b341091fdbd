import { flowVelocityMS } from "../physics/pipe-flow.ts";
import { outletInAirM } from "./geometry.ts";
import { type Installation, type Pipe, pipeHeadM, pumpHeadM, workingHeadM } from "./installation.ts";
import { type Amounts, held, type Line, unknown } from "./line.ts";

const footM = 0.3048;
const common = "common practice";
/** Longest runs of pipe before the friction is to be looked at (common practice). */
const longestRunM = 20 * footM;
const longestRunsM = 40 * footM;
/** Most velocity in a pipe, m/s: 5 ft/s in a suction, 8 ft/s in a discharge (common practice). */
const mostVelocityMS = { suction: 5 * footM, discharge: 8 * footM } as const;
/** Most of the pump's head that one pipe may take (house choice). */
const mostShare = 0.1;
/** Flows at which a pump is content, as shares of that of its best efficiency: here its rated flow. */
const content = { from: 0.7, to: 1.2 } as const;
const leastDepthM = 3 * footM;

const sides = ["suction", "discharge"] as const;
type Side = (typeof sides)[number];

export function pipeLines(site: Installation, a: Amounts): Line[] {
  return [
    ...sides.map((side) => runLine(side, site, a)),
    bothRunsLine(site, a),
    ...sides.flatMap((side) => frictionLines(side, site, a)),
    flowLine(site, a),
    headLine(site, a),
    depthLine(site, a),
  ];
}

const lengthOf = ({ unit }: Installation, side: Side): number | undefined =>
  side === "suction" ? unit.piping.suctionLengthM : unit.piping.dischargeLengthM;

/** What a pipe takes of the head where the pump works, in words; nothing where it is not known. */
function takes(pipes: readonly (Pipe | null)[], site: Installation, a: Amounts): string {
  const { flow } = site;
  const headM = workingHeadM(site);
  const known = pipes.filter((pipe) => pipe !== null);
  if (flow === null || headM === null || known.length < pipes.length)
    return "How much it takes is not known.";
  const lost = known.reduce((sum, pipe) => sum + pipeHeadM(pipe, flow.lpm, site.usualC), 0);
  const share = Math.round((100 * lost) / headM);
  const rest =
    lost <= mostShare * pipes.length * headM ? "it may stay so" : "shorten it, or take a wider pipe";
  return `It takes ${a.length(lost).text}, ${share} % of the pump's head: ${rest}.`;
}

function runLine(side: Side, site: Installation, a: Amounts): Line {
  const length = lengthOf(site, side);
  const limit = { limit: a.length(longestRunM), sense: "at most" } as const;
  const check = `${side} run`;
  if (length === undefined) return unknown(check, common, [`piping.${side}_length`], limit);
  return held(check, a.length(length), "at most", limit.limit, common, {
    verdict: "caution",
    note: `A long run. ${takes([site[side]], site, a)}`,
  });
}

function bothRunsLine(site: Installation, a: Amounts): Line {
  const limit = a.length(longestRunsM);
  const lengths = sides.map((side) => lengthOf(site, side));
  const missing = sides.filter((_, i) => lengths[i] === undefined).map((side) => `piping.${side}_length`);
  const total = lengths.reduce<number>((sum, length) => sum + (length ?? 0), 0);
  if (missing.length > 0) return unknown("both runs", common, missing, { limit, sense: "at most" });
  return held("both runs", a.length(total), "at most", limit, common, {
    verdict: "caution",
    note: `Long runs. ${takes([site.suction, site.discharge], site, a)}`,
  });
}

function frictionLines(side: Side, site: Installation, a: Amounts): Line[] {
  const pipe = site[side];
  const { flow } = site;
  const most = a.velocity(mostVelocityMS[side]);
  const friction = `${side} friction`;
  const velocity = `${side} velocity`;
  if (pipe === null || flow === null) {
    const missing = [
      ...(lengthOf(site, side) === undefined ? [`piping.${side}_length`] : []),
      ...(site.unit.piping.insideDiameterM === undefined ? ["piping.inside_diameter"] : []),
      ...(flow === null ? ["pump.rated_flow"] : []),
    ];
    return [
      unknown(friction, "house choice", missing),
      unknown(velocity, common, missing, { limit: most, sense: "at most" }),
    ];
  }
  const lost = a.length(pipeHeadM(pipe, flow.lpm, site.usualC));
  const headM = workingHeadM(site);
  const wider = "Take a wider pipe, fewer fittings or a shorter run.";
  return [
    headM === null
      ? unknown(friction, "house choice", ["pump.rated_head"], { value: lost })
      : held(friction, lost, "at most", a.length(mostShare * headM), "10 % of head", {
          verdict: "caution",
          note: wider,
        }),
    held(velocity, a.velocity(flowVelocityMS(flow.lpm, pipe.boreM)), "at most", most, common, {
      verdict: "caution",
      note: wider,
    }),
  ];
}

const flowSource = "ANSI/HI 9.6.3";

function flowLine(site: Installation, a: Amounts): Line {
  const { flow, unit } = site;
  const { ratedFlowLpm, shutoffHeadM, ratedHeadM } = unit.pump;
  const missing = [
    ...(ratedFlowLpm === undefined ? ["pump.rated_flow"] : []),
    ...(ratedHeadM === undefined ? ["pump.rated_head"] : []),
    ...(shutoffHeadM === undefined ? ["pump.shutoff_head"] : []),
    ...(unit.generator.flowLpm === undefined || unit.generator.pressureKpa === undefined
      ? ["generator.flow", "generator.pressure"]
      : []),
    ...(site.suction === null ? ["piping.suction_length"] : []),
    ...(site.discharge === null ? ["piping.discharge_length"] : []),
    ...(unit.piping.insideDiameterM === undefined ? ["piping.inside_diameter"] : []),
  ];
  if (flow === null || flow.how === "rated" || ratedFlowLpm === undefined) {
    const value = flow === null ? null : a.channel("flow", flow.lpm);
    const enter = missing.length === 0 ? ["pump.rated_head"] : missing;
    const line = unknown("flow", flowSource, enter, { value });
    return flow?.how === "rated" ? { ...line, note: `Taken as rated. ${line.note}` } : line;
  }
  const [least, most] = [content.from * ratedFlowLpm, content.to * ratedFlowLpm];
  const value = a.channel("flow", flow.lpm);
  const low = flow.lpm < least;
  const limit = a.channel("flow", low ? least : most);
  if (flow.lpm <= 0) {
    return {
      ...held("flow", value, "at least", limit, flowSource, { verdict: "fail", note: "No water moves." }),
    };
  }
  return held("flow", value, low ? "at least" : "at most", limit, flowSource, {
    verdict: "caution",
    note: low
      ? "The pump works far back on its curve: look for what narrows the line, or take a smaller pump."
      : "The pump works far out on its curve, where it asks for more NPSH and more current: take a larger pump or a smaller generator.",
  });
}

function headLine(site: Installation, a: Amounts): Line {
  const headM = workingHeadM(site);
  const { shutoffHeadM } = site.unit.pump;
  const source = "shutoff head";
  const limit = shutoffHeadM === undefined ? null : a.length(shutoffHeadM);
  if (headM === null || limit === null) {
    const missing = [
      ...(headM === null ? ["pump.rated_flow", "pump.rated_head"] : []),
      ...(limit === null ? ["pump.shutoff_head"] : []),
    ];
    const value = headM === null ? null : a.length(headM);
    return unknown("total dynamic head", source, missing, { value, limit, sense: limit && "at most" });
  }
  return held(
    "total dynamic head",
    a.length(headM),
    "at most",
    limit,
    source,
    { verdict: "fail", note: "More than the pump has: look again at the gauges and at the maker's curve." },
    headWords(site),
  );
}

/** Where the head comes from. */
function headWords(site: Installation): string {
  if (pumpHeadM(site) === null)
    return "From the gauges: discharge less suction pressure, over density times gravity.";
  if (site.flow?.how === "rated")
    return "Taken as rated: how much pipes and generator take of it is not known.";
  if (outletInAirM(site) > 0)
    return "Friction + generator. At the lowest water the outlet's height above it comes on top, and is not counted here.";
  return "Static head + friction + generator. Static is 0: the water goes back to its pond, and the outlet's depth adds none. Friction by Darcy-Weisbach with Swamee-Jain, fittings by Crane TP-410, the generator by the square of its flow.";
}

function depthLine({ unit, fallsM }: Installation, a: Amounts): Line {
  const least = a.length(leastDepthM);
  if (unit.dischargeDepthM === undefined) {
    return unknown("outlet depth", common, ["discharge_depth"], { limit: least, sense: "at least" });
  }
  return held("outlet depth", a.length(unit.dischargeDepthM - fallsM), "at least", least, common, {
    verdict: "caution",
    note: "Lay the outlet deeper, at the deepest part: it costs the pump no head.",
  });
}
