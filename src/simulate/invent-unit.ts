import type { Voltage } from "../physics/full-load-current.ts";
import type { Channel } from "../terms/channels.ts";
import type { InventedUnit } from "./invented-unit.ts";
import type { Horsepower } from "./motor.ts";
import { partSeed, randomFrom } from "./random.ts";

/** Invented waters; nothing of them exists. */
const sites = [
  "Harrowmere",
  "Dunnet Pool",
  "Ashlow Green",
  "Kestrel Basin",
  "Millrace Park",
  "Tolworth Dam",
  "Wexcombe Links",
  "Yarrow Ponds",
] as const;

const unitsASite = 5;
const boreM = 0.0409;

const base: readonly Channel[] = [
  "motor_current",
  "motor_temperature",
  "suction_pressure",
  "discharge_pressure",
  "gas_pressure",
];

const windows: readonly (readonly string[])[] = [
  ["05:30-21:00"],
  ["06:00-12:00", "14:00-22:00"],
  ["20:00-10:00"],
  ["07:00-19:00"],
];

/** One skid at its place, with nothing wrong. Variety comes by turns, so that even a small fleet has it. */
export function inventUnit(place: number, seed: number): InventedUnit {
  const random = randomFrom(seed);
  const slow = randomFrom(partSeed(seed, 0));
  const horsepower = ([0.5, 0.75, 1] as const satisfies readonly Horsepower[])[place % 3];
  const voltageV: Voltage = horsepower === 1 ? 230 : 115;
  const liftM = random.between(0.8, 2);
  const ozone = place % 10 === 3 ? "bypassed" : place % 10 === 8 ? "none" : "fitted";
  const feed = place % 8 === 5 ? "regulated" : "constant flow";
  return {
    id: `${initials(siteOf(place))}-${String(place + 1).padStart(2, "0")}`,
    site: siteOf(place),
    plan: {
      horsepower,
      voltageV,
      unloadedShare: random.between(0.7, 0.8),
      liftM,
      suctionLengthM: random.between(3, 6),
      boreM,
      checkValve: liftM > 1.8,
      injectorKpa: random.between(20, 28),
      gasLossPerK: slow.between(0, mostLossPerK),
      ozone: { fitted: ozone === "fitted", lagS: random.between(12, 40), follows: "water" },
      headShare: random.between(0.94, 1.06),
      riseShare: random.between(0.85, 1.1),
      dutyLoad: random.between(0.82, 0.94),
      feed,
      elevationM,
    },
    runs: place % 5 < 2 ? "always" : windows[place % windows.length],
    ozone,
    consequence: (["fish", "irrigation", "appearance"] as const)[place % 3],
    temperatureAt: place % 6 === 4 ? "winding" : "shell",
    sharedOutlet: place % 12 === 7,
    channels: channelsOf(place, ozone, feed),
    seed: Math.floor(random.uniform() * 2 ** 31),
    faults: [],
    stops: [],
    services: [],
    blemishes: [],
    sags: [],
    drawDownMPerDay: place % 7 === 2 ? random.between(0.005, 0.02) : 0,
    driftKpaPerDay: {
      suction_pressure: driftKpaPerDay * slow.normal(),
      discharge_pressure: driftKpaPerDay * slow.normal(),
      gas_pressure: driftKpaPerDay * slow.normal(),
    },
  };
}

/** Spread of the instruments' drift, and the most that an injector's loss follows its gas's absolute temperature. */
const driftKpaPerDay = 0.03;
const mostLossPerK = 1 / 288;

export const elevationM = 120;

function siteOf(place: number): string {
  return sites[Math.floor(place / unitsASite) % sites.length];
}

function initials(site: string): string {
  return site.slice(0, 2).toUpperCase();
}

function channelsOf(place: number, ozone: string, feed: string): readonly Channel[] {
  return [
    ...base,
    ...(ozone === "none" ? [] : (["ozone"] as const)),
    ...(feed === "regulated" ? (["gas_flow"] as const) : []),
    ...(place % 4 === 1 ? (["voltage"] as const) : []),
    ...(place % 4 === 2 ? (["ambient_temperature", "water_temperature"] as const) : []),
    ...(place % 9 === 6 && ozone !== "none" ? (["ozone_in_air"] as const) : []),
    ...(place % 5 === 4 ? (["run_command"] as const) : []),
  ];
}
