import { cautions } from "../advise/cautions.ts";
import { largestBreakerA, thinnestWire, voltageDropV } from "../physics/conductors.ts";
import { continuousCircuitA, overloadSettingA, thermalProtectorTripA } from "../physics/overload.ts";
import type { Installation } from "./installation.ts";
import { type Amounts, held, type Line, listed, unknown } from "./line.ts";

/** Most voltage to be lost along a branch circuit, %. Source: NEC 210.19(A), informational note: advice, not law. */
const mostDropPercent = 3;
const decides = "An electrician decides.";

export function electricLines({ unit }: Installation, a: Amounts): Line[] {
  return [loadLine(unit, a), wireLine(unit, a), dropLine(unit, a), overloadLine(unit, a)];
}

type Unit = Installation["unit"];

const loads = [
  ["ozone", "ozoneLoadA", "ozone_load"],
  ["gas source", "gasLoadA", "gas_load"],
  ["heater", "heaterLoadA", "heater_load"],
  ["logger", "loggerLoadA", "logger_load"],
] as const;

/** All that the circuit carries, A; without what is not written. Undefined without the motor's nameplate. */
function wholeLoadA({ motor, supply }: Unit): number | undefined {
  if (motor.fullLoadCurrentA === undefined) return undefined;
  const others = loads.reduce((sum, [, key]) => sum + (supply[key] ?? 0), supply.otherLoadA ?? 0);
  return motor.fullLoadCurrentA + others;
}

function loadLine(unit: Unit, a: Amounts): Line {
  const { circuitA } = unit.supply;
  const load = wholeLoadA(unit);
  const check = "circuit load";
  const source = "NEC 210.20(A)";
  const value = load === undefined ? null : a.channel("motor_current", load);
  if (load === undefined || value === null || circuitA === undefined) {
    const missing = [
      ...(load === undefined ? ["motor.full_load_current"] : []),
      ...(circuitA === undefined ? ["supply.circuit"] : []),
    ];
    return unknown(check, source, missing, { value });
  }
  const most = continuousCircuitA(circuitA);
  const absent = unit.ozone === "none" ? "ozone_load" : "";
  const unsaid = loads.filter(([, key, name]) => unit.supply[key] === undefined && name !== absent);
  const left = a.channel("motor_current", most - load).text;
  const within =
    unsaid.length === 0 || unit.supply.otherLoadA !== undefined
      ? null
      : `Not counted: ${listed(unsaid.map(([what]) => what))}; ${left} are left. Enter supply.${listed(unsaid.map(([, , name]) => name))}.`;
  const rating = a.channel("motor_current", circuitA).text;
  return held(
    check,
    value,
    "at most",
    a.channel("motor_current", most),
    source,
    load > circuitA
      ? {
          verdict: "fail",
          note: `More than the ${rating} of the circuit: a circuit of its own, or a larger one. ${decides}`,
        }
      : {
          verdict: "caution",
          note: `Over 80 % of the ${rating} circuit, the design rule for a load of 3 h or longer: a circuit of its own, or a larger one. ${decides}`,
        },
    within,
  );
}

function wireLine({ supply: { wire, circuitA } }: Unit, a: Amounts): Line {
  // Small conductors by 240.4(D), thicker ones by their ampacity.
  const source = wire !== undefined && wire < 10 ? "NEC Table 310.16" : "NEC 240.4(D)";
  if (wire === undefined || circuitA === undefined) {
    const missing = [
      ...(wire === undefined ? ["supply.wire"] : []),
      ...(circuitA === undefined ? ["supply.circuit"] : []),
    ];
    return unknown("circuit on wire", source, missing);
  }
  const value = a.channel("motor_current", circuitA);
  const limit = a.channel("motor_current", largestBreakerA(wire));
  return held("circuit on wire", value, "at most", limit, source, {
    verdict: "fail",
    note: `${wire} AWG copper is protected by ${limit.text} at most, else it may overheat; only for a circuit of nothing but a motor may NEC 430.52 allow more. ${decides}`,
  });
}

function dropLine(unit: Unit, a: Amounts): Line {
  const { wire: written, circuitA, runLengthM } = unit.supply;
  const { voltageV } = unit.motor;
  const load = wholeLoadA(unit);
  const source = "NEC 210.19(A)";
  const limit = a.percent(mostDropPercent);
  const wire = written ?? (circuitA === undefined ? undefined : thinnestWire(circuitA));
  if (wire === undefined || runLengthM === undefined || voltageV === undefined || load === undefined) {
    const missing = [
      ...(runLengthM === undefined ? ["supply.run_length"] : []),
      ...(wire === undefined ? ["supply.wire"] : []),
      ...(voltageV === undefined ? ["motor.voltage"] : []),
      ...(load === undefined ? ["motor.full_load_current"] : []),
    ];
    return unknown("voltage drop", source, missing, { limit, sense: "at most" });
  }
  const drop = voltageDropV(load, runLengthM, wire);
  const basis = written === undefined ? `Taken: ${wire} AWG copper, the thinnest for that circuit.` : null;
  const volts = `${a.channel("voltage", drop).text} are lost along the run: thicker wire or a shorter run. ${decides}`;
  const past = { verdict: "caution", note: basis === null ? volts : `${volts} ${basis}` } as const;
  return held("voltage drop", a.percent((100 * drop) / voltageV), "at most", limit, source, past, basis);
}

function overloadLine({ motor, supply }: Unit, a: Amounts): Line {
  const { fullLoadCurrentA, serviceFactor } = motor;
  const source = "NEC 430.32";
  if (fullLoadCurrentA === undefined) return unknown("overload setting", source, ["motor.full_load_current"]);
  const most = overloadSettingA(fullLoadCurrentA, { ...(serviceFactor !== undefined && { serviceFactor }) });
  const limit = a.channel("motor_current", most);
  const trip = a.channel("motor_current", thermalProtectorTripA(fullLoadCurrentA));
  if (supply.overload === undefined) {
    const note = "Enter supply.overload: its setting, or 'built in' for a protector in the motor.";
    return unknown("overload setting", source, ["supply.overload"], { limit, sense: "at most", note });
  }
  if (supply.overload === "built in") {
    const value = { ...trip, text: "built in" };
    const note = `The motor's own protector lets ${trip.text} pass at most.`;
    return {
      check: "overload setting",
      verdict: "pass",
      value,
      limit: trip,
      sense: "at most",
      source,
      note,
      enter: [],
    };
  }
  return held("overload setting", a.channel("motor_current", supply.overload), "at most", limit, source, {
    verdict: "fail",
    note: `Set it lower: the motor is not protected. ${decides} ${cautions.manual}`,
  });
}
