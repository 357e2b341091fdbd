import type { Fittings } from "../fleet/installation-words.ts";
import type { Unit } from "../fleet/unit.ts";
import { atmosphericPressureKpa } from "../physics/atmosphere.ts";
import { entranceLoss, exitLoss, fittingLoss, lossHeadM } from "../physics/fittings.ts";
import { darcyWeisbachHeadM } from "../physics/friction.ts";
import { type HeadCurve, headAtM, headCurve, operatingFlowLpm } from "../physics/operating-point.ts";
import { roughnessM } from "../physics/roughness.ts";
import { kpaPerMetreAt, saturationPressureKpa } from "../physics/water.ts";
import type { Channel } from "../terms/channels.ts";
import type { Amounts } from "./line.ts";

/** What gauges showed, in stored units, and who says so. */
export type Measured = Readonly<Partial<Record<Channel, { readonly value: number; readonly from: string }>>>;

/** A pipe with what is in its way; `loss` in velocity heads. */
export interface Pipe {
  readonly lengthM: number;
  readonly boreM: number;
  readonly roughnessM: number;
  readonly loss: number;
}

/** A unit with what is taken for granted where its entry says nothing. */
export interface Installation {
  readonly unit: Unit;
  readonly measured: Measured;
  /** Readings that belong to the installation as it is, and tell nothing of the one that is tried. */
  readonly withheld: readonly Channel[];
  readonly airKpa: number;
  readonly coldestC: number;
  readonly warmestC: number;
  /** Water for which expected values are worked out. */
  readonly usualC: number;
  readonly fallsM: number;
  readonly risesM: number;
  readonly suction: Pipe | null;
  readonly discharge: Pipe | null;
  readonly curve: HeadCurve | null;
  readonly flow: { readonly lpm: number; readonly how: "worked out" | "measured" | "rated" } | null;
  readonly assumed: readonly string[];
}

/** Friction and fittings of a pipe, m: flow in L/min, temperature in °C. */
export function pipeHeadM(pipe: Pipe, flowLpm: number, temperatureC: number): number {
  const { lengthM, boreM } = pipe;
  return (
    darcyWeisbachHeadM(flowLpm, lengthM, boreM, temperatureC, pipe.roughnessM) +
    lossHeadM(pipe.loss, flowLpm, boreM)
  );
}

/** The most that the air can carry at a temperature, m: where water boils above it. */
export function carriedHeadM(airKpa: number, temperatureC: number): number {
  return (airKpa - saturationPressureKpa(temperatureC)) / kpaPerMetreAt(temperatureC);
}

/** Valves among fittings that keep the water in the suction; undefined where nothing is said of any. */
export function valvesIn({ check_valve, foot_valve, hinged_foot_valve }: Fittings): number | undefined {
  const said = [check_valve, foot_valve, hinged_foot_valve].filter((count) => count !== undefined);
  return said.length === 0 ? undefined : said.reduce((sum, count) => sum + count, 0);
}

/** The pump's curve, where its two points are written and can be of one pump. */
function curveOf({ shutoffHeadM, ratedFlowLpm, ratedHeadM, type }: Unit["pump"]): HeadCurve | null {
  if (shutoffHeadM === undefined || ratedFlowLpm === undefined || ratedHeadM === undefined) return null;
  if (ratedHeadM >= shutoffHeadM) return null;
  return headCurve(shutoffHeadM, ratedFlowLpm, ratedHeadM, type === "regenerative" ? 1 : 2);
}

/** Head lost in the generator at a flow, m; undefined where nothing is written of it. */
function generatorHeadM({ generator }: Unit, flowLpm: number, temperatureC: number): number | undefined {
  if (generator.flowLpm === undefined || generator.pressureKpa === undefined) return undefined;
  const share = flowLpm / generator.flowLpm;
  return (generator.pressureKpa / kpaPerMetreAt(temperatureC)) * share * share;
}

/** A unit as it is to be judged; what is taken for granted is said in the units of `a`. */
export function installation(unit: Unit, measured: Measured, a: Amounts): Installation {
  const { piping, pump, water } = unit;
  const assumed: string[] = [];
  const given = <T>(value: T | undefined, instead: T, words: string): T => {
    if (value === undefined) assumed.push(words);
    return value ?? instead;
  };
  const coldestC = given(water.coldestC, 1, `water.coldest ${a.channel("water_temperature", 1).text}`);
  const warmestC = given(water.warmestC, 30, `water.warmest ${a.channel("water_temperature", 30).text}`);
  const usualC = (coldestC + warmestC) / 2;
  const airKpa = atmosphericPressureKpa(given(unit.elevationM, 0, `elevation ${a.length(0).text}`));
  const fallsM = given(water.fallsM, 0, `water.falls ${a.length(0).text}`);
  const roughness = roughnessM[given(piping.material, "plastic", "piping.material plastic")];
  const boreM = piping.insideDiameterM;

  const pipe = (lengthM: number | undefined, ends: number, fittings: Fittings): Pipe | null => {
    if (lengthM === undefined || boreM === undefined) return null;
    let loss = ends;
    for (const [name, count] of Object.entries(fittings)) {
      loss += (count ?? 0) * fittingLoss(name as keyof Fittings, boreM);
    }
    return { lengthM, boreM, roughnessM: roughness, loss };
  };
  const up = given(piping.suctionFittings, { elbow: 2 }, "piping.suction_fittings 2 elbows");
  const isCounted = (valvesIn(up) ?? 0) > 0 || piping.checkValve !== true;
  const suction = pipe(piping.suctionLengthM, entranceLoss, isCounted ? up : { ...up, check_valve: 1 });
  const discharge = pipe(
    piping.dischargeLengthM,
    exitLoss,
    given(piping.dischargeFittings, { elbow: 3 }, "piping.discharge_fittings 3 elbows"),
  );
  const curve = curveOf(pump);
  const common = { unit, measured, airKpa, coldestC, warmestC, usualC, fallsM, suction, discharge, curve };
  return { ...common, withheld: [], risesM: water.risesM ?? 0, flow: flowOf(common), assumed };
}

function flowOf({
  unit,
  measured,
  usualC,
  suction,
  discharge,
  curve,
}: Pick<
  Installation,
  "unit" | "measured" | "usualC" | "suction" | "discharge" | "curve"
>): Installation["flow"] {
  if (
    curve !== null &&
    suction !== null &&
    discharge !== null &&
    generatorHeadM(unit, 1, usualC) !== undefined
  ) {
    // From the pond and back to it: no static head, and the depth of the outlet adds none.
    const system = (flow: number): number =>
      pipeHeadM(suction, flow, usualC) +
      pipeHeadM(discharge, flow, usualC) +
      (generatorHeadM(unit, flow, usualC) ?? 0);
    return { lpm: operatingFlowLpm(curve, system), how: "worked out" };
  }
  if (measured.flow !== undefined) return { lpm: measured.flow.value, how: "measured" };
  return unit.pump.ratedFlowLpm === undefined ? null : { lpm: unit.pump.ratedFlowLpm, how: "rated" };
}

/** Head of the pump where it works, m, by its curve or as rated; null where neither is known. */
export function pumpHeadM({ unit, curve, flow }: Installation): number | null {
  if (flow === null) return null;
  if (curve !== null) return headAtM(curve, flow.lpm);
  return flow.how === "rated" ? (unit.pump.ratedHeadM ?? null) : null;
}

/** Head of the pump where it works, m, where its curve is not known by its gauges; null where those are not either. */
export function workingHeadM(site: Installation): number | null {
  const { suction_pressure, discharge_pressure } = site.measured;
  const byPump = pumpHeadM(site);
  if (byPump !== null || suction_pressure === undefined || discharge_pressure === undefined) return byPump;
  return (discharge_pressure.value - suction_pressure.value) / kpaPerMetreAt(site.usualC);
}
