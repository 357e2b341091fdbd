import { z } from "zod";
import { channels } from "../terms/channels.ts";
import { day, hour } from "../terms/time.ts";
import { columns } from "./columns-schema.ts";
import { commissioning } from "./commissioning-schema.ts";
import { generator, piping, pump, supply, water } from "./installation-schema.ts";
import { takes, told } from "./json-schema.ts";
import { limits, type RuleSettings } from "./limits.ts";
import { duration, quantity } from "./quantity.ts";
import { runs, season } from "./schedule-schema.ts";
import { instant, mapping, oneOf, text, textOrDigits, understood } from "./schema.ts";
import type { Cleaner, Unit, Upkeep } from "./unit.ts";

const idShape = /^(?!\.{1,2}$)[\p{L}\p{N}._-]{1,64}$/u;

/** A unit's id, or undefined where the text cannot be one. */
export function parseUnitId(text: string): string | undefined {
  return idShape.test(text) ? text : undefined;
}

const longest = 10 * 366 * day;

const motor = mapping({
  full_load_current: told(quantity("A", { above: 0 }), "by the nameplate", "9.8 A").optional(),
  service_factor: told(quantity("", { min: 0.5, max: 2 }), "by the nameplate", 1.15).optional(),
  insulation_class: told(oneOf(["A", "B", "F", "H"]), "by the nameplate; sets its warmest", "B").optional(),
  voltage: told(quantity("V", { above: 0 }), "by the nameplate", "115 V").optional(),
  temperature_at: told(oneOf(["shell", "winding"]), "where its temperature is measured").default("shell"),
  starts_per_hour: told(quantity("", { above: 0 }), "as many as the maker allows", 6).optional(),
}).transform((written) => ({
  fullLoadCurrentA: written.full_load_current,
  serviceFactor: written.service_factor,
  insulationClass: written.insulation_class,
  voltageV: written.voltage,
  temperatureAt: written.temperature_at,
  startsPerHour: written.starts_per_hour,
}));

const gas = mapping({
  feed: told(oneOf(["constant flow", "regulated", "drawn in"]), "how the gas is fed").default(
    "constant flow",
  ),
  injected: told(oneOf(["discharge", "suction"]), "on which side of the pump").default("discharge"),
});

const baseline = mapping({
  from: told(instant(), "from when it ran clean"),
  for: told(duration({ above: 0, max: longest }), "for how long").default(2 * hour),
}).transform((written) => ({ fromMs: written.from, forMs: written.for }));

const cleaner = mapping({
  name: told(text("the cleaner's name"), "as on its label").optional(),
  dose: told(quantity("mL", { above: 0, max: 20_000 }), "into the generator", "25 mL").optional(),
  strength: told(
    text("how strong it is, such as 1 part in 10"),
    "as it is prepared",
    "1 part in 10",
  ).optional(),
  soak: told(duration({ above: 0, max: day }), "how long it works", "15 min").optional(),
  rinses: told(quantity("", { min: 1, max: 20 }), "with clear water", 3).optional(),
}).transform(
  ({ dose, soak, ...written }): Cleaner => ({
    ...written,
    ...(dose !== undefined && { doseMl: dose }),
    ...(soak !== undefined && { soakMs: soak }),
  }),
);

const service = mapping({
  inspection_every: told(duration({ above: 0, max: longest }), "the longest between two").default(30 * day),
  cleaning_every: told(duration({ above: 0, max: longest }), "the longest between two").default(30 * day),
  inspection_running: told(
    duration({ above: 0, max: longest }),
    "the most running between two",
    "1000 h",
  ).optional(),
  cleaning_running: told(
    duration({ above: 0, max: longest }),
    "the most running between two",
    "1000 h",
  ).optional(),
  cleaner: told(cleaner, "what the maker asks for").optional(),
  parts: told(z.array(text("a part to take along")), "to take along", ["an O-ring set"]).optional(),
}).transform(
  ({ inspection_running, cleaning_running, cleaner, parts, ...written }): Upkeep => ({
    inspectionEveryMs: written.inspection_every,
    cleaningEveryMs: written.cleaning_every,
    ...(inspection_running !== undefined && { inspectionRunningMs: inspection_running }),
    ...(cleaning_running !== undefined && { cleaningRunningMs: cleaning_running }),
    ...(cleaner && { cleaner }),
    ...(parts && { parts }),
  }),
);

/** Keys of a unit that `defaults` may set as well. */
function shared(ruleSettings: RuleSettings) {
  return {
    site: told(text("the site's name"), "where it stands", "Heron Bend").optional(),
    serial: told(
      text("the skid's serial number"),
      "follows the skid when it is swapped",
      "S-1042",
    ).optional(),
    log: told(
      text("a file, folder or pattern under logs"),
      "which files are its log; default: by name",
      "LM-01*.csv",
    ).optional(),
    sample_interval: told(
      duration({ above: 0, max: day }),
      "time between two readings; default: learned",
      "10 s",
    ).optional(),
    arrives_every: told(
      duration({ above: 0, max: longest }),
      "how often the log is delivered; default: the sample interval",
      "1 h",
    ).optional(),
    runs: told(
      runs,
      "when it should run: always, never or daily windows; without it not-running needs a run_command",
      ["05:30-21:00"],
    ).optional(),
    season: told(season, "first and last day; outside it the unit is laid up", "04-01..11-15").optional(),
    consequence: told(
      oneOf(["fish", "irrigation", "appearance"]),
      "what suffers when it stops: fish, irrigation or appearance",
      "fish",
    ).optional(),
    ozone: told(
      oneOf(["fitted", "bypassed", "none"]),
      "fitted, bypassed or none; default: fitted if the log has the column",
      "fitted",
    ).optional(),
    not_measured: told(
      z.array(oneOf(channels)),
      "channels it has no gauge for, by choice: what needs them is not asked after",
      ["motor_temperature"],
    ).optional(),
    logger_power: told(
      oneOf(["separate", "same outlet"]),
      "same outlet: missing readings may mean no power",
      "same outlet",
    ).default("separate"),
    motor: told(motor, "by the nameplate", { full_load_current: "9.8 A", insulation_class: "B" }),
    pump: told(pump, "the maker's figures; type radial or regenerative", { npsh_required: "2.5 m" }),
    piping: told(piping, "as it was laid", { suction_lift: "4 ft", inside_diameter: "1.61 in" }),
    generator: told(generator, "the fine-bubble generator: what the maker asks for", {
      flow: "60 L/min",
      pressure: "50 kPa",
    }),
    gas: told(gas, "feed: constant flow, regulated or drawn in; injected: discharge or suction", {
      feed: "constant flow",
      injected: "discharge",
    }),
    supply: told(supply, "the circuit it hangs on", { circuit: "15 A", run_length: "3 ft" }),
    water: told(water, "its temperatures and levels over the year", { warmest: "28 degC", falls: "0.5 m" }),
    elevation: told(
      quantity("m", { min: -500, max: 9000 }),
      "above sea level: how deep a vacuum can be",
      "120 m",
    ).optional(),
    discharge_depth: told(quantity("m", { min: 0 }), "of the outlet under water", "5 ft").optional(),
    columns: told(columns, "which column of the log is which channel"),
    baseline: told(baseline, "when it ran clean; default: the first steady running seen, provisional", {
      from: "2026-05-01T00:00:00Z",
      for: "2 h",
    }).optional(),
    commissioning: told(commissioning, "what its gauges showed at its handover; confirms a baseline", {
      on: "2026-05-01",
      motor_current: "9.1 A",
    }).optional(),
    service: told(service, "how often it is to be inspected and cleaned", {
      inspection_every: "30 d",
      cleaning_every: "30 d",
    }),
    limits: told(limits(ruleSettings), "settings of alarms that differ from their defaults", {
      overheating: { delay: "1 min" },
    }),
  };
}

/** What `defaults` may hold: any key of a unit but its id. */
export function defaultsSchema(ruleSettings: RuleSettings) {
  return mapping(shared(ruleSettings));
}

/** A unit as the fleet file writes it, made into the program's own. */
export function unitSchema(ruleSettings: RuleSettings): z.ZodType<Unit> {
  return mapping({
    id: told(
      takes(
        understood(parseUnitId, "an id", "letters, digits, '-', '_' and '.', such as LM-01"),
        textOrDigits,
      ),
      "the unit's name; its logs are named so too, unless log says otherwise",
    ),
    ...shared(ruleSettings),
  }).transform(
    ({
      sample_interval,
      arrives_every,
      logger_power,
      not_measured,
      elevation,
      discharge_depth,
      ...unit
    }): Unit => ({
      ...unit,
      sampleIntervalMs: sample_interval,
      arrivesEveryMs: arrives_every,
      loggerPower: logger_power,
      ...(not_measured && { notMeasured: not_measured }),
      elevationM: elevation,
      dischargeDepthM: discharge_depth,
    }),
  );
}
