import { noProtection, oxygenWords } from "../dashboard/found-words.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { StoredUnit } from "../fleet/units.ts";
import { type GroundFault, groundFaults, type HandReadings, type Visit } from "../fleet/visit.ts";
import { visible } from "../terms/text.ts";
import { day } from "../terms/time.ts";
import { instant } from "./check.ts";
import { CannotWork } from "./context.ts";
import { gaugesOf, typedReading } from "./hand-gauges.ts";

/** What may be told of a visit, as typed. */
export interface VisitOptions {
  readonly arrived?: string;
  readonly left?: string;
  readonly oxygen?: string;
  readonly secchi?: string;
  readonly water?: string;
  readonly reading?: readonly string[];
  readonly readAt?: string;
  readonly groundFault?: string;
  readonly part?: readonly string[];
  readonly used?: readonly string[];
  readonly photo?: readonly string[];
}

/** Nobody stays longer without going home. */
const longestVisitMs = day;

/**
 * What a hand meter can show of a pond: supersaturated water of an algal afternoon holds about 20 mg/L; the clearest lakes
 * show a Secchi disk at some 40 m; a pond is no hot spring (from memory).
 */
const ranges = {
  oxygen: { unit: "mg/L", min: 0, max: 25 },
  secchi: { unit: "m", min: 0, max: 45 },
  water: { unit: "°C", min: -1, max: 45 },
} as const satisfies Record<string, { unit: StoredUnit; min: number; max: number }>;

/** OSHA's permissible exposure to ozone (29 CFR 1910.1000, Table Z-1), ppm. */
const mostOzonePpm = 0.1;

/** A visit as typed; undefined where nothing was told of it. Throws `CannotWork` for what cannot be. */
export function visitOf(options: VisitOptions, fleet: Fleet, unit: Unit, nowMs: number): Visit | undefined {
  const arrivedMs = timeOf(options.arrived, "--arrived", fleet, nowMs);
  const leftMs = timeOf(options.left, "--left", fleet, nowMs);
  if (arrivedMs !== undefined && leftMs !== undefined) {
    if (leftMs < arrivedMs) throw new CannotWork("--left comes after --arrived");
    if (leftMs - arrivedMs > longestVisitMs)
      throw new CannotWork("--arrived and --left are more than a day apart; look at the date");
  }
  const { water_temperature: water, ...gauges } = gaugesOf(options.reading ?? [], unit);
  if (water !== undefined && options.water !== undefined)
    throw new CannotWork("--water and --reading water_temperature are the same; write one of them");
  const readings = handReadings(options, water);
  const readMs = timeOf(options.readAt, "--read-at", fleet, nowMs);
  if (readMs !== undefined && options.reading === undefined && options.water === undefined)
    throw new CannotWork("--read-at goes with --reading: say what the gauges showed");
  const visit: Visit = {
    ...(arrivedMs !== undefined && { arrivedMs }),
    ...(leftMs !== undefined && { leftMs }),
    ...(readings && { readings }),
    ...(Object.keys(gauges).length > 0 && { gauges }),
    ...(readMs !== undefined && { readMs }),
    ...(options.groundFault !== undefined && { groundFault: groundFaultOf(options.groundFault) }),
    ...(options.part && { parts: options.part.map(visible) }),
    ...(options.used && { used: options.used.map(visible) }),
    ...(options.photo && { photos: options.photo.map(visible) }),
  };
  return Object.keys(visit).length > 0 ? visit : undefined;
}

/** What a person should hear at once of what they told. */
export function alertsOf(unit: string, { readings, gauges, groundFault }: Visit): readonly string[] {
  const oxygen = oxygenWords(readings?.dissolvedOxygenMgL ?? Number.POSITIVE_INFINITY);
  const ozonePpm = gauges?.ozone_in_air;
  return [
    ...(groundFault === "did not trip" ? [`${unit}: ${noProtection}`] : []),
    ...(oxygen === null ? [] : [`${unit}: dissolved oxygen ${oxygen}`]),
    ...(ozonePpm !== undefined && ozonePpm >= mostOzonePpm
      ? [
          `${unit}: ozone in air at or past ${mostOzonePpm} ppm, the limit (OSHA 29 CFR 1910.1000, Table Z-1): keep out, ozone off first, air it from upwind`,
        ]
      : []),
  ];
}

/** A time that has passed, as typed: in the fleet's zone, or with its offset. Undefined where none is given. */
export function timeOf(
  text: string | undefined,
  option: string,
  { timezone }: Fleet,
  nowMs: number,
): number | undefined {
  if (text === undefined) return undefined;
  const timeMs = instant(text, option, timezone, nowMs);
  if (timeMs > nowMs)
    throw new CannotWork(`${option} lies ahead; a stop that is meant is planned: service plan`);
  return timeMs;
}

function handReadings(
  { oxygen, secchi, water }: VisitOptions,
  gaugeC: number | undefined,
): HandReadings | undefined {
  const waterC = water === undefined ? gaugeC : reading("water", water);
  const readings: HandReadings = {
    ...(oxygen !== undefined && { dissolvedOxygenMgL: reading("oxygen", oxygen) }),
    ...(secchi !== undefined && { secchiM: reading("secchi", secchi) }),
    ...(waterC !== undefined && { waterTemperatureC: waterC }),
  };
  return Object.keys(readings).length > 0 ? readings : undefined;
}

function reading(option: keyof typeof ranges, text: string): number {
  const { unit, ...bounds } = ranges[option];
  return typedReading(`--${option}`, text, unit, bounds);
}

function groundFaultOf(text: string): GroundFault {
  const known = groundFaults.find((one) => one === text.trim().toLowerCase());
  if (known !== undefined) return known;
  throw new CannotWork(
    `--ground-fault '${visible(text)}': say what its test button did; write ${groundFaults.map((one) => `"${one}"`).join(" or ")}`,
  );
}
