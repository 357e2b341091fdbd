import type { Channel } from "../terms/channels.ts";
import type { Installation, Measured } from "./installation.ts";

/** What pressures and flow rest on: without what was measured. */
const hydraulics = ({ unit, suction, discharge, curve, usualC }: Installation): unknown => {
  const { ratedFlowLpm, ratedHeadM } = unit.pump;
  const lift = unit.piping.suctionLiftM;
  return [lift, suction, discharge, curve, usualC, unit.generator, ratedFlowLpm, ratedHeadM];
};

/** What the motor's current rests on. */
const motor = ({ unit }: Installation): unknown => {
  const { fullLoadCurrentA, serviceFactor, voltageV } = unit.motor;
  return [fullLoadCurrentA, serviceFactor, voltageV, unit.pump.motorLoadPercent];
};

const restsOn: Readonly<Partial<Record<Channel, (site: Installation) => unknown>>> = {
  suction_pressure: hydraulics,
  discharge_pressure: hydraulics,
  flow: hydraulics,
  motor_current: motor,
};

/** Of readings of an installation as it is, those that another one would give no otherwise. */
export function stillHolding(measured: Measured, now: Installation, tried: Installation): Measured {
  return Object.fromEntries(
    Object.entries(measured).filter(([channel]) => {
      const what = restsOn[channel as Channel];
      return what === undefined || JSON.stringify(what(now)) === JSON.stringify(what(tried));
    }),
  );
}
