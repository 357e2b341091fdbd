import type { z } from "zod";
import { day, hour } from "../terms/time.ts";
import { columns } from "./columns-schema.ts";
import { commissioning } from "./commissioning-schema.ts";
import { generator, piping, pump, supply, water } from "./installation-schema.ts";
import { limits, type RuleSettings } from "./limits.ts";
import { duration, quantity } from "./quantity.ts";
import { runs, season } from "./schedule-schema.ts";
import { instant, mapping, oneOf, text, understood } from "./schema.ts";
import type { Unit } from "./unit.ts";

const idShape = /^(?!\.{1,2}$)[\p{L}\p{N}._-]{1,64}$/u;
const longest = 10 * 366 * day;

const motor = mapping({
  full_load_current: quantity("A", { above: 0 }).optional(),
  service_factor: quantity("", { min: 0.5, max: 2 }).optional(),
  insulation_class: oneOf(["A", "B", "F", "H"]).optional(),
  voltage: quantity("V", { above: 0 }).optional(),
  temperature_at: oneOf(["shell", "winding"]).default("shell"),
  starts_per_hour: quantity("", { above: 0 }).optional(),
}).transform((written) => ({
  fullLoadCurrentA: written.full_load_current,
  serviceFactor: written.service_factor,
  insulationClass: written.insulation_class,
  voltageV: written.voltage,
  temperatureAt: written.temperature_at,
  startsPerHour: written.starts_per_hour,
}));

const gas = mapping({
  feed: oneOf(["constant flow", "regulated", "drawn in"]).default("constant flow"),
  injected: oneOf(["discharge", "suction"]).default("discharge"),
});

const baseline = mapping({
  from: instant(),
  for: duration({ above: 0, max: longest }).default(2 * hour),
}).transform((written) => ({ fromMs: written.from, forMs: written.for }));

const service = mapping({
  inspection_every: duration({ above: 0, max: longest }).default(30 * day),
  cleaning_every: duration({ above: 0, max: longest }).default(30 * day),
}).transform((written) => ({
  inspectionEveryMs: written.inspection_every,
  cleaningEveryMs: written.cleaning_every,
}));

/** Keys of a unit that `defaults` may set as well. */
function shared(ruleSettings: RuleSettings) {
  return {
    site: text("the site's name").optional(),
    serial: text("the skid's serial number").optional(),
    log: text("a file, folder or pattern under logs").optional(),
    sample_interval: duration({ above: 0, max: day }).optional(),
    arrives_every: duration({ above: 0, max: longest }).optional(),
    runs: runs.optional(),
    season: season.optional(),
    consequence: oneOf(["fish", "irrigation", "appearance"]).optional(),
    ozone: oneOf(["fitted", "bypassed", "none"]).optional(),
    logger_power: oneOf(["separate", "same outlet"]).default("separate"),
    motor,
    pump,
    piping,
    generator,
    gas,
    supply,
    water,
    elevation: quantity("m", { min: -500, max: 9000 }).optional(),
    discharge_depth: quantity("m", { min: 0 }).optional(),
    columns,
    baseline: baseline.optional(),
    commissioning: commissioning.optional(),
    service,
    limits: limits(ruleSettings),
  };
}

/** What `defaults` may hold: any key of a unit but its id. */
export function defaultsSchema(ruleSettings: RuleSettings) {
  return mapping(shared(ruleSettings));
}

/** A unit as the fleet file writes it, made into the program's own. */
export function unitSchema(ruleSettings: RuleSettings): z.ZodType<Unit> {
  return mapping({
    id: understood(
      (id) => (idShape.test(id) ? id : undefined),
      "an id",
      "letters, digits, '-', '_' and '.', such as LM-01",
    ),
    ...shared(ruleSettings),
  }).transform(
    ({ sample_interval, arrives_every, logger_power, elevation, discharge_depth, ...unit }): Unit => ({
      ...unit,
      sampleIntervalMs: sample_interval,
      arrivesEveryMs: arrives_every,
      loggerPower: logger_power,
      elevationM: elevation,
      dischargeDepthM: discharge_depth,
    }),
  );
}
