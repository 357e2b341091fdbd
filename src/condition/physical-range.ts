import { signalsOf } from "../fleet/signals.ts";
import type { Unit } from "../fleet/unit.ts";
import { atmosphericPressureKpa } from "../physics/atmosphere.ts";
import type { Channel } from "../terms/channels.ts";

/** What a channel can read at all, in its stored unit. */
export interface PhysicalRange {
  readonly low: number;
  readonly high: number;
}

/** No motor draws more than this multiple of its full-load current: six to eight at its start (common practice). */
const mostStartingCurrents = 12;
/** Without a nameplate: twelve times that of the largest motor a 20 A outlet feeds (house choice). */
const mostCurrentA = 200;
/** A current transformer reads a little below zero at rest (house choice). */
const leastCurrentA = -0.5;

/** Instruments on a skid end within these; past them a line is broken or shorted (house choices). */
const fixed: Readonly<Partial<Record<Channel, PhysicalRange>>> = {
  /** Below: colder than any pond; above: insulation of any class is gone. */
  motor_temperature: { low: -40, high: 250 },
  water_temperature: { low: -40, high: 100 },
  ambient_temperature: { low: -60, high: 90 },
  /** Small flow meters read a little below zero at rest. */
  flow: { low: -20, high: 5000 },
  gas_flow: { low: -2, high: 1000 },
  voltage: { low: -5, high: 1000 },
  power: { low: -50, high: 50_000 },
  vibration: { low: -200, high: 200 },
  water_level: { low: -50, high: 100 },
  ozone_in_air: { low: -0.05, high: 1000 },
};

/** Weather moves the pressure of the air by about so much (common practice). */
const weatherKPa = 3;
/** Pipes, hoses and gauges of such a skid end far below this, kPa (house choice). */
const mostPressureKPa = 2500;

/**
 * The physical range of a channel at a unit; undefined for a status. A gauge cannot read below a perfect
 * vacuum, which is the pressure of the air at the unit's elevation (sea level where that is not given) and of
 * the weather.
 */
export function physicalRange(channel: Channel, unit: Unit): PhysicalRange | undefined {
  switch (channel) {
    case "motor_current": {
      const full = unit.motor.fullLoadCurrentA;
      return { low: leastCurrentA, high: full === undefined ? mostCurrentA : mostStartingCurrents * full };
    }
    case "suction_pressure":
    case "discharge_pressure":
    case "gas_pressure":
      return { low: -atmosphericPressureKpa(unit.elevationM ?? 0) - weatherKPa, high: mostPressureKPa };
    default:
      return fixed[channel];
  }
}

const known = new WeakMap<Unit, readonly (PhysicalRange | undefined)[]>();

/** The physical range of each of a unit's signals, worked out once. */
export function physicalRanges(unit: Unit): readonly (PhysicalRange | undefined)[] {
  let ranges = known.get(unit);
  if (ranges === undefined) {
    ranges = signalsOf(unit).map(({ channel }) => physicalRange(channel, unit));
    known.set(unit, ranges);
  }
  return ranges;
}
