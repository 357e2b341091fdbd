import type { Channel, OzoneState } from "../terms/channels.ts";
import { type Fault, faultLevel } from "./fault.ts";
import type { Random } from "./random.ts";
import type { Sample } from "./sensors.ts";

/** What a broken line reads, in stored units: the end of the instrument's scale, or past it. */
const broken: Readonly<Partial<Record<Channel, number>>> = {
  motor_current: -5,
  motor_temperature: 850,
  suction_pressure: -180,
  discharge_pressure: -150,
  gas_pressure: -150,
};
/** How far a loose contact throws an instrument, in stored units. */
const jumps: Readonly<Partial<Record<Channel, number>>> = {
  motor_current: 12,
  motor_temperature: 60,
  suction_pressure: 60,
  discharge_pressure: 150,
  gas_pressure: 150,
};

/** Spoils the readings of instruments that have a fault; it remembers what a frozen one last read. */
export function startInstruments(): (sample: Sample, faults: readonly Fault[], random: Random) => Sample {
  const kept = new Map<Fault, number | OzoneState | undefined>();
  return (sample, faults, random) => {
    let values = sample.values;
    for (const fault of faults) {
      const { channel, kind } = fault;
      if (channel === undefined) continue;
      if (faultLevel(fault, sample.timeMs) === 0) {
        kept.delete(fault);
        continue;
      }
      const now = values[channel];
      if (kind === "sensor-frozen") {
        if (!kept.has(fault)) kept.set(fault, now);
        values = { ...values, [channel]: kept.get(fault) };
      } else if (kind === "sensor-off-scale") values = { ...values, [channel]: broken[channel] ?? now };
      else if (kind === "sensor-jumping" && typeof now === "number" && random.uniform() < 0.3) {
        const far = Math.round((jumps[channel] ?? 0) * random.between(-1, 1) * 10) / 10;
        values = { ...values, [channel]: now + far };
      }
    }
    return values === sample.values ? sample : { ...sample, values };
  };
}
