import { minute } from "../terms/time.ts";
import type { DemoUnit } from "./demo-unit.ts";
import type { Fault } from "./fault.ts";
import type { FaultKind } from "./fault-kinds.ts";
import { localTime, recordedFromMs } from "./recorded-day.ts";

/** What most units have in common. */
const usual = {
  horsepower: 0.75,
  voltageV: 115,
  unloadedShare: 0.75,
  liftFt: 4,
  suctionFt: 15,
  checkValve: false,
  injectorKpa: 24,
  runs: "always",
  ozone: "fitted",
  consequence: "appearance",
  format: "plain",
  kept: "packed",
} as const satisfies Partial<DemoUnit>;

const half = { horsepower: 0.5, unloadedShare: 0.78 } as const;
const one = { horsepower: 1, voltageV: 230, unloadedShare: 0.72 } as const;
const golf = { ...usual, site: "Quillmere golf course" };
const homes = { ...usual, site: "Amberwick Commons" };
const reservoir = { ...usual, site: "Sallowby reservoir", consequence: "irrigation" } as const;
const park = { ...usual, site: "Fennick Park" };
const trout = { ...usual, site: "Oxbarrow trout ponds", voltageV: 230, consequence: "fish" } as const;
const school = { ...usual, site: "Pellwater school" };

function fault(kind: FaultKind, from: string, to?: string, severity = 1, courseMs = 0): Fault {
  return {
    kind,
    fromMs: localTime(from),
    toMs: to === undefined ? undefined : localTime(to),
    severity,
    courseMs,
  };
}

/** The demo fleet, 24 units in the order of its file. */
export const demoUnits: readonly DemoUnit[] = [
  { ...golf, id: "QM-01", kept: "plain", remark: "fountain pond, by the clubhouse" },
  {
    ...golf,
    ...half,
    id: "QM-02",
    blemishes: [
      {
        kind: "garbage",
        atMs: localTime("06:12"),
        text: "2026-05-04T11:1\u0007\u001b[2J\u001b[31m##,9.,\u0000",
      },
    ],
  },
  {
    ...golf,
    ...one,
    id: "QM-03",
    liftFt: 5,
    runs: ["05:30-21:00"],
    blemishes: [{ kind: "gap", fromMs: localTime("13:31"), toMs: localTime("13:37") }],
  },
  {
    ...golf,
    id: "QM-04",
    runs: ["05:30-21:00"],
    unloadedShare: 0.77,
    faults: [fault("protector-tripped", "14:08")],
  },
  {
    ...golf,
    ...one,
    id: "QM-05",
    liftFt: 6,
    format: "usUnits",
    remark: "older logger: inches and Fahrenheit",
  },
  { ...golf, ...half, id: "QM-06", season: "06-15..09-15", remark: "swimming hole, summer only" },

  { ...homes, ...half, id: "AC-01", format: "decimalComma", remark: "logger set to decimal commas" },
  {
    ...homes,
    ...half,
    id: "AC-02",
    runs: ["07:00-12:00", "14:00-17:25"],
    remark: "quiet hours agreed with the neighbours",
  },
  {
    ...homes,
    id: "AC-03",
    kept: "plain",
    voltageV: 230,
    liftFt: 3,
    faults: [fault("cooling-blocked", "12:30", undefined, 0.25, 120 * minute)],
    remark: "behind the hedge; it was trimmed this week",
  },
  {
    ...homes,
    ...half,
    id: "AC-04",
    unloadedShare: 0.8,
    sharedOutlet: true,
    format: "withOffset",
    blemishes: [
      { kind: "repeated", atMs: localTime("03:05"), rows: 3 },
      { kind: "late", atMs: localTime("09:45"), rows: 2, byRows: 4 },
    ],
  },

  {
    ...reservoir,
    ...one,
    id: "SB-01",
    liftFt: 8,
    suctionFt: 22,
    checkValve: true,
    faults: [fault("suction-uncovered", "14:41", undefined, 1, minute)],
    remark: "foot valve at the end of the suction line",
  },
  { ...reservoir, ...one, id: "SB-02", liftFt: 7, suctionFt: 20, checkValve: true, runs: ["20:00-06:00"] },
  { ...reservoir, ...one, id: "SB-03", liftFt: 6, temperatureAt: "winding", format: "withWeather" },
  {
    ...reservoir,
    id: "SB-04",
    liftFt: 6,
    checkValve: true,
    kept: "delivered",
    remark: "sends its log every half hour",
  },
  {
    ...reservoir,
    ...one,
    id: "SB-05",
    liftFt: 9,
    suctionFt: 24,
    kept: "missing",
    remark: "logger to be fitted",
  },

  {
    ...park,
    ...half,
    id: "FP-01",
    runs: ["06:00-09:00", "11:00-14:00", "17:45-20:00"],
    faults: [fault("ozone-relay-welded", "13:20")],
  },
  { ...park, ...half, id: "FP-02", liftFt: 3, ozone: "none", format: "withoutOzone" },
  { ...park, id: "FP-03", unloadedShare: 0.73, faults: [fault("logger-silent", "16:20")] },

  {
    ...trout,
    id: "OX-01",
    checkValve: true,
    faults: [fault("suction-uncovered", "08:52", "09:40", 1, 40_000)],
    stops: [{ fromMs: localTime("09:36"), toMs: localTime("09:48") }],
    remark: "suction union resealed this week",
  },
  { ...trout, id: "OX-02", liftFt: 3, faults: [fault("ozone-cell-fault", "15:26")] },
  { ...trout, id: "OX-03", liftFt: 3, unloadedShare: 0.76, kept: "plain", format: "withCommand" },
  { ...trout, ...one, id: "OX-04", liftFt: 5 },

  {
    ...school,
    ...half,
    id: "PW-01",
    runs: ["08:00-18:00"],
    ozone: "bypassed",
    remark: "no ozone while classes use the pond",
  },
  {
    ...school,
    ...half,
    id: "PW-02",
    format: "ownHeaders",
    faults: [
      { kind: "strainer-clogged", fromMs: recordedFromMs, severity: 0.12, courseMs: 2 * 24 * 60 * minute },
    ],
    remark: "weed in the pond; strainer cleaned last month",
  },
];
