import { z } from "zod";
import { fittingNames, pipeMaterials, type WireSize, wireSizes } from "./installation-words.ts";
import { quantity } from "./quantity.ts";
import { handOn, mapping, oneOf } from "./schema.ts";

const wires = wireSizes.map((size) => `${size} AWG`);
const wireWords = oneOf(wires).transform((words) => Number.parseInt(words, 10) as WireSize);

/** `12 AWG`, or `12` alone. */
const wire = z.preprocess(
  (value) => (typeof value === "number" || /^\d+$/.test(String(value)) ? `${value} AWG` : value),
  wireWords,
);

const fittings = mapping(
  Object.fromEntries(
    fittingNames.map((name) => [name, quantity("", { min: 0, max: 50 }).optional()]),
  ) as Record<(typeof fittingNames)[number], z.ZodOptional<z.ZodType<number>>>,
);

export const pump = mapping({
  npsh_required: quantity("m", { above: 0 }).optional(),
  shutoff_head: quantity("m", { above: 0 }).optional(),
  rated_flow: quantity("L/min", { above: 0 }).optional(),
  rated_head: quantity("m", { above: 0 }).optional(),
  air_handling: quantity("L/min", { above: 0 }).optional(),
  motor_load: quantity("%", { above: 0, max: 150 }).optional(),
  type: oneOf(["radial", "regenerative"]).default("radial"),
}).transform((written) => ({
  npshRequiredM: written.npsh_required,
  shutoffHeadM: written.shutoff_head,
  ratedFlowLpm: written.rated_flow,
  ratedHeadM: written.rated_head,
  airHandlingLpm: written.air_handling,
  motorLoadPercent: written.motor_load,
  type: written.type,
}));

export const piping = mapping({
  suction_lift: quantity("m", { min: -20, max: 20 }).optional(),
  suction_length: quantity("m", { min: 0 }).optional(),
  discharge_length: quantity("m", { min: 0 }).optional(),
  inside_diameter: quantity("m", { above: 0, max: 1 }).optional(),
  check_valve: z.boolean().optional(),
  material: oneOf(pipeMaterials).optional(),
  suction_fittings: fittings.optional(),
  discharge_fittings: fittings.optional(),
}).transform((written) => ({
  suctionLiftM: written.suction_lift,
  suctionLengthM: written.suction_length,
  dischargeLengthM: written.discharge_length,
  insideDiameterM: written.inside_diameter,
  checkValve: written.check_valve,
  material: written.material,
  suctionFittings: written.suction_fittings,
  dischargeFittings: written.discharge_fittings,
}));

export const generator = mapping({
  flow: quantity("L/min", { above: 0 }).optional(),
  pressure: quantity("kPa", { min: 0 }).optional(),
}).transform((written) => ({ flowLpm: written.flow, pressureKpa: written.pressure }));

export const water = mapping({
  coldest: quantity("°C", { min: 0, max: 50 }).optional(),
  warmest: quantity("°C", { min: 0, max: 50 }).optional(),
  falls: quantity("m", { min: 0, max: 20 }).optional(),
  rises: quantity("m", { min: 0, max: 20 }).optional(),
}).transform((written) => ({
  coldestC: written.coldest,
  warmestC: written.warmest,
  fallsM: written.falls,
  risesM: written.rises,
}));

/** A setting, or a protector built into the motor. */
const overload = z
  .unknown()
  .transform((value, context): number | "built in" =>
    value === "built in" ? value : handOn(quantity("A", { above: 0 }), value, context),
  );

const load = () => quantity("A", { min: 0 }).optional();

export const supply = mapping({
  circuit: quantity("A", { above: 0 }).optional(),
  run_length: quantity("m", { min: 0 }).optional(),
  wire: wire.optional(),
  overload: overload.optional(),
  ozone_load: load(),
  gas_load: load(),
  heater_load: load(),
  logger_load: load(),
  other_load: load(),
}).transform((written) => ({
  circuitA: written.circuit,
  runLengthM: written.run_length,
  wire: written.wire,
  overload: written.overload,
  ozoneLoadA: written.ozone_load,
  gasLoadA: written.gas_load,
  heaterLoadA: written.heater_load,
  loggerLoadA: written.logger_load,
  otherLoadA: written.other_load,
}));
