import { z } from "zod";
import { fittingNames, pipeMaterials, type WireSize, wireSizes } from "./installation-words.ts";
import { told } from "./json-schema.ts";
import { quantity } from "./quantity.ts";
import { inUnit } from "./quantity-unit.ts";
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
  npsh_required: told(quantity("m", { above: 0 }), "the maker's", "2.5 m").optional(),
  shutoff_head: told(quantity("m", { above: 0 }), "the maker's, at no flow", "18 m").optional(),
  rated_flow: told(quantity("L/min", { above: 0 }), "a point of the maker's curve", "150 L/min").optional(),
  rated_head: told(quantity("m", { above: 0 }), "the head at that flow", "12 m").optional(),
  air_handling: told(quantity("L/min", { above: 0 }), "air drawn while priming", "15 L/min").optional(),
  motor_load: told(quantity("%", { above: 0, max: 150 }), "of full load at the rated point").optional(),
  type: told(oneOf(["radial", "regenerative"]), "which way the current goes with the flow").default("radial"),
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
  suction_lift: told(
    quantity("m", { min: -20, max: 20 }),
    "from the water up to the pump",
    "4 ft",
  ).optional(),
  suction_length: told(quantity("m", { min: 0 }), "of the pipe", "15 ft").optional(),
  discharge_length: told(quantity("m", { min: 0 }), "of the pipe", "18 ft").optional(),
  inside_diameter: told(quantity("m", { above: 0, max: 1 }), "of the pipes", "1.61 in").optional(),
  check_valve: told(z.boolean(), "whether one holds the water in the suction").optional(),
  material: told(oneOf(pipeMaterials), "of the pipes").optional(),
  suction_fittings: told(fittings, "how many of each").optional(),
  discharge_fittings: told(fittings, "how many of each").optional(),
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
  flow: told(quantity("L/min", { above: 0 }), "the maker's", "60 L/min").optional(),
  pressure: told(quantity("kPa", { min: 0 }), "before it, at that flow", "50 kPa").optional(),
}).transform((written) => ({ flowLpm: written.flow, pressureKpa: written.pressure }));

export const water = mapping({
  coldest: told(quantity("°C", { min: 0, max: 50 }), "of the year").optional(),
  warmest: told(quantity("°C", { min: 0, max: 50 }), "of the year", "28 degC").optional(),
  falls: told(quantity("m", { min: 0, max: 20 }), "below the level that the lift is of", "0.5 m").optional(),
  rises: told(quantity("m", { min: 0, max: 20 }), "above it").optional(),
}).transform((written) => ({
  coldestC: written.coldest,
  warmestC: written.warmest,
  fallsM: written.falls,
  risesM: written.rises,
}));

/** A setting, or a protector built into the motor. */
const overload = inUnit(
  z
    .unknown()
    .transform((value, context): number | "built in" =>
      value === "built in" ? value : handOn(quantity("A", { above: 0 }), value, context),
    ),
  "A",
);

const load = (what: string, example?: string) => told(quantity("A", { min: 0 }), what, example).optional();

export const supply = mapping({
  circuit: told(quantity("A", { above: 0 }), "what the circuit is rated for", "15 A").optional(),
  run_length: told(quantity("m", { min: 0 }), "of the wires, one way", "3 ft").optional(),
  wire: told(wire, "its size", "12 AWG").optional(),
  overload: told(overload, "its setting, or built in", "built in").optional(),
  ozone_load: load("the ozone cell draws"),
  gas_load: load("the gas source draws"),
  heater_load: load("the heater draws"),
  logger_load: load("the logger draws"),
  other_load: load("what else hangs on the circuit draws", "0.4 A"),
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
