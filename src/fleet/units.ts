/** Units that the program stores, every other unit is converted on the way in; `""` is a plain number. */
export const storedUnits = [
  "A",
  "°C",
  "K",
  "kPa",
  "L/min",
  "V",
  "W",
  "g",
  "m",
  "ppm",
  "mg/L",
  "mL",
  "%",
  "",
  "ms",
] as const;
export type StoredUnit = (typeof storedUnits)[number];

/** stored = factor · written + offset */
export interface Conversion {
  readonly factor: number;
  readonly offset: number;
}

type Spellings = Readonly<Record<string, number | Conversion>>;

const fahrenheit: Conversion = { factor: 1 / 1.8, offset: -32 / 1.8 };
const celsius: Conversion = { factor: 1, offset: 0 };

/** Pascals by definition: the pound-force from 0.453 592 37 kg, mercury at 13 595.1 kg/m³, g at 9.806 65 m/s². */
const psi = 6.894757293168362;
const inHg = 3.386388640341;
const inH2O = 0.2490889083;

/** Litres in a US gallon and in a cubic foot, by definition. */
const gallon = 3.785411784;
const cubicFoot = 28.316846592;

/**
 * Spellings of each stored unit's kin, lower case without spaces, with what one of them is in the
 * stored unit. Constants: NIST SP 811 (2008), appendix B.8; "conventional" columns of mercury and water.
 * Pressures are gauge pressures, volumes a minute actual volumes.
 */
const spellings: Readonly<Record<StoredUnit, Spellings>> = {
  A: { a: 1, amp: 1, amps: 1, ampere: 1, amperes: 1, ma: 0.001 },
  "°C": {
    "°c": celsius,
    c: celsius,
    degc: celsius,
    celsius,
    "°f": fahrenheit,
    f: fahrenheit,
    degf: fahrenheit,
    fahrenheit,
  },
  K: { k: 1, "°c": 1, c: 1, degc: 1, "°f": 1 / 1.8, f: 1 / 1.8, degf: 1 / 1.8 },
  kPa: {
    kpa: 1,
    pa: 0.001,
    hpa: 0.1,
    bar: 100,
    mbar: 0.1,
    psi,
    psig: psi,
    inhg: inHg,
    mmhg: 0.133322387415,
    inh2o: inH2O,
    fth2o: inH2O * 12,
    mh2o: 9.80665,
  },
  "L/min": {
    "l/min": 1,
    lpm: 1,
    "l/s": 60,
    "l/h": 1 / 60,
    "m3/h": 1000 / 60,
    "m³/h": 1000 / 60,
    gpm: gallon,
    "gal/min": gallon,
    gph: gallon / 60,
    cfm: cubicFoot,
    cfh: cubicFoot / 60,
  },
  V: { v: 1, volt: 1, volts: 1, mv: 0.001, kv: 1000 },
  W: { w: 1, watt: 1, watts: 1, kw: 1000, hp: 745.6998715822702 },
  g: { g: 1, mg: 0.001, "m/s2": 1 / 9.80665, "m/s²": 1 / 9.80665 },
  m: {
    m: 1,
    cm: 0.01,
    mm: 0.001,
    ft: 0.3048,
    "'": 0.3048,
    feet: 0.3048,
    foot: 0.3048,
    in: 0.0254,
    '"': 0.0254,
    inch: 0.0254,
    inches: 0.0254,
  },
  ppm: { ppm: 1, ppb: 0.001 },
  /** Of dissolved oxygen: a litre of fresh water is a kilogram, near enough for a hand meter. */
  "mg/L": { "mg/l": 1, ppm: 1 },
  mL: { ml: 1, cc: 1, l: 1000, floz: gallon * (1000 / 128) },
  "%": { "%": 1, percent: 1 },
  "": {},
  ms: {
    ms: 1,
    s: 1000,
    sec: 1000,
    second: 1000,
    seconds: 1000,
    min: 60_000,
    minute: 60_000,
    minutes: 60_000,
    h: 3_600_000,
    hr: 3_600_000,
    hour: 3_600_000,
    hours: 3_600_000,
    d: 86_400_000,
    day: 86_400_000,
    days: 86_400_000,
  },
};

const conversions = new Map(
  storedUnits.map((stored) => [
    stored as string,
    new Map(
      Object.entries(spellings[stored]).map(([spelling, to]) => [
        spelling,
        typeof to === "number" ? { factor: to, offset: 0 } : to,
      ]),
    ),
  ]),
);

/**
 * How numbers in `unit` become numbers in the stored unit `channelUnit`: `stored = factor · x + offset`.
 * Spelling counts in any case (`inHg`, `INHG`), spaces do not count (`deg F`). Undefined where the unit
 * is not one of that kind. In `K`, the unit of temperature differences, 27 °F are 15 K.
 */
export function toStored(unit: string, channelUnit: string): Conversion | undefined {
  return conversions.get(channelUnit)?.get(unit.replace(/\s+/g, "").toLowerCase());
}

/** Whether any stored unit has such a spelling: tells a wrong kind of unit from a misspelt one. */
export function isUnit(unit: string): boolean {
  return storedUnits.some((stored) => toStored(unit, stored) !== undefined);
}

/** Spellings that `stored` may be written in, the usual one first. */
export function unitsOf(stored: string): readonly string[] {
  return [...(conversions.get(stored)?.keys() ?? [])];
}
