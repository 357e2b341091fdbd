import type {
  AlarmView,
  FleetView,
  ReadingView,
  UnitHistory,
  UnitView,
} from "../../src/collector/fleet-view.ts";
import { type ChartPlace, firstChartPlace } from "../../src/dashboard/chart-place.ts";
import type { FleetSource } from "../../src/dashboard/source.ts";
import type { PastShown } from "../../src/dashboard/use-past.ts";
import type { Channel } from "../../src/terms/channels.ts";

/** 03:12:20 in Chicago on 4 May 2026: the night on-call's hour. */
export const nightMs = Date.UTC(2026, 4, 4, 8, 12, 20);
const minute = 60_000;
const hour = 60 * minute;

const sites = ["Heron Bend", "Otter Pool", "Mill Reach", "Alder Marsh"];

/** A reading in its normal band, with the limits that an invented unit would have. */
export function reading(
  channel: Channel,
  value: number | null,
  over: Partial<ReadingView> = {},
): ReadingView {
  const normal: Partial<Record<Channel, { center: number; low: number; high: number }>> = {
    motor_current: { center: 9.2, low: 8.9, high: 9.5 },
    motor_temperature: { center: 58, low: 52, high: 64 },
    suction_pressure: { center: -24.5, low: -26.5, high: -22.5 },
    discharge_pressure: { center: 86.4, low: 82, high: 91 },
    gas_pressure: { center: 34.1, low: 32.5, high: 35.7 },
  };
  const limits: Partial<Record<Channel, readonly [number | null, number | null]>> = {
    motor_current: [4.6, 11.3],
    motor_temperature: [null, 90],
    suction_pressure: [-60, null],
    discharge_pressure: [43, 130],
    gas_pressure: [20, 47],
  };
  const [limitLow, limitHigh] = limits[channel] ?? [null, null];
  return { channel, part: 0, value, normal: normal[channel] ?? null, limitLow, limitHigh, ...over };
}

export function healthyReadings(shift = 0): readonly ReadingView[] {
  return [
    reading("motor_current", 9.2 + 0.1 * shift),
    reading("motor_temperature", 58 + 1.3 * shift),
    reading("suction_pressure", -24.5 - 0.4 * shift),
    reading("discharge_pressure", 86.4 + 0.9 * shift),
    reading("gas_pressure", 34.1 + 0.3 * shift),
    reading("ozone", 1),
  ];
}

/** A unit that runs as it should; `over` says what is different. */
export function unit(id: string, over: Partial<UnitView> = {}): UnitView {
  return {
    id,
    site: "Heron Bend",
    state: "running",
    sinceMs: nightMs - 21 * hour,
    lastReadingMs: nightMs,
    intervalMs: 10_000,
    baseline: "confirmed",
    baselineNote: null,
    baselineAsks: false,
    readings: healthyReadings(),
    alarms: [],
    setAside: [],
    quiet: [{ alarm: "ozone-in-air", why: "the log has no ozone-in-air column" }],
    log: { files: [`${id}.csv`], rows: 181_440, repeats: 0, late: 0, rejected: 0, newestRejected: [] },
    problem: null,
    problemPriority: "medium",
    ...over,
  };
}

export function alarm(over: Partial<AlarmView> = {}): AlarmView {
  const { priority = "high" } = over;
  return {
    alarm: "lost-prime",
    priority,
    sinceMs: nightMs - 12 * minute,
    raisedMs: nightMs - 11.5 * minute,
    state: "active-unacknowledged",
    by: null,
    message: "motor current 4.1 A (baseline 9.2 A) while discharge pressure is 2.1 kPa (baseline 86.4 kPa)",
    evidence: {
      discharge_pressure: { value: 2.1, baseline: 86.4, unit: "kPa" },
      motor_current: { value: 4.1, baseline: 9.2, limit: 6, unit: "A" },
    },
    guidance: {
      urgency: priority === "high" ? "now" : priority === "medium" ? "soon" : "next visit",
      howSoon: "now: fish depend on this unit, and a dry pump heats its seal within minutes",
      likelyCauses: [
        "air leak in the suction line or its unions",
        "water below the foot valve",
        "foot valve stuck open",
      ],
      actions: [
        "Cut the power at the skid's disconnect and lock it before you touch the pump.",
        "Look at the water's level over the foot valve.",
        "Fill the pump's casing through the priming port and restart it at the skid.",
      ],
      cautions: ["The casing may be scalding after dry running: let it cool before you open it."],
    },
    ...over,
  };
}

export const lostPrime = unit("LM-03", {
  site: "Otter Pool",
  sinceMs: nightMs - 2 * hour,
  readings: [
    reading("motor_current", 4.1),
    reading("motor_temperature", 71.2),
    reading("suction_pressure", -3.2),
    reading("discharge_pressure", 2.1),
    reading("gas_pressure", 12.4),
    reading("ozone", 0),
  ],
  alarms: [
    alarm(),
    alarm({
      alarm: "ozone-off",
      priority: "medium",
      message: "ozone off for 9 min while water should move",
      sinceMs: nightMs - 9 * minute,
    }),
  ],
  log: {
    files: ["LM-03.csv", "LM-03.csv.1.gz"],
    rows: 181_433,
    repeats: 3,
    late: 1,
    rejected: 2,
    newestRejected: [
      { file: "LM-03.csv", line: 8812, why: "motor_current_a: '9,,1' is not a number" },
      { file: "LM-03.csv", line: 611, why: "time: '2026-05-03 25:10:00' is not a time" },
    ],
  },
});

const strainer = unit("LM-07", {
  site: "Mill Reach",
  alarms: [
    alarm({
      alarm: "suction-restricted",
      priority: "medium",
      sinceMs: nightMs - 3 * hour - 5 * minute,
      message:
        "vacuum 33.2 kPa (baseline 24.5 kPa), discharge pressure 79.0 kPa (baseline 86.4 kPa): strainer or screen",
    }),
  ],
});
const sensor = unit("LM-09", {
  site: "Mill Reach",
  alarms: [
    alarm({
      alarm: "sensor-fault",
      priority: "low",
      state: "active-acknowledged",
      sinceMs: nightMs - 26 * hour,
      message: "gas pressure frozen at 34.1 kPa for 26 h while others move",
    }),
  ],
});
const fouling = unit("LM-11", {
  site: "Alder Marsh",
  alarms: [
    alarm({
      alarm: "gas-pressure-drift",
      priority: "prompt",
      sinceMs: nightMs - 96 * hour,
      message: "gas pressure rises 0.4 kPa a day; cleaning is due about 16 May",
    }),
  ],
});

/** A fleet of `count` invented units with one of each kind of trouble, at night. */
export function fleetView(count = 14, over: Partial<FleetView> = {}): FleetView {
  const units: UnitView[] = [];
  for (let number = 1; number <= count; number++) {
    const id = `LM-${String(number).padStart(2, "0")}`;
    const special = [lostPrime, strainer, sensor, fouling].find((each) => each.id === id);
    units.push(
      special ??
        unit(id, {
          site: sites[number % sites.length] ?? null,
          readings: healthyReadings((number % 5) - 2),
          state: number === 6 ? "stopped" : number === 12 ? "no readings" : "running",
          sinceMs: number === 12 ? nightMs - 5 * hour : nightMs - number * hour,
          lastReadingMs: number === 12 ? nightMs - 30 * minute : nightMs,
        }),
    );
  }
  return {
    version: 1,
    fleet: "Larkmoor ponds",
    timezone: "America/Chicago",
    display: "si",
    clockMs: nightMs,
    stateFolder: "/var/lib/tarnwatch/larkmoor",
    notices: [],
    units,
    ...over,
  };
}

/** What of a past no test is about, where it does not say so itself. */
export const plainPast = {
  services: [],
  heldMs: 30_000,
  coarsestMs: 0,
  refinable: false,
  lacking: [],
  knownFromMs: nightMs - 30 * 24 * hour,
  running: null,
  npsh: null,
  drift: null,
} satisfies Partial<UnitHistory>;

/** A past in which each reading wavers about its present value, with a fall 12 min before the end. */
export function history(
  view: FleetView,
  id: string,
  fromMs: number,
  toMs: number,
  points: number,
): UnitHistory {
  const shown = view.units.find((each) => each.id === id);
  const step = (toMs - fromMs) / points;
  const timeMs = Array.from({ length: points }, (_, i) => fromMs + (i + 0.5) * step);
  const signals = (shown?.readings ?? []).map(({ channel, part, value, normal }) => {
    const at = (t: number): number => {
      if (t > view.clockMs) return Number.NaN;
      const now = value ?? Number.NaN;
      if (normal === null || t > nightMs - 12 * minute) return now;
      return normal.center + (normal.high - normal.center) * 0.6 * Math.sin(t / (11 * minute));
    };
    return { channel, part, low: timeMs.map(at), high: timeMs.map(at) };
  });
  const events = [
    { timeMs: nightMs - 3 * hour, alarm: "cavitation" as const, event: "raised" },
    { timeMs: nightMs - 2.5 * hour, alarm: "cavitation" as const, event: "cleared" },
  ];
  return {
    ...plainPast,
    unit: id,
    fromMs,
    toMs,
    timeMs,
    signals,
    events: events.filter((e) => e.timeMs >= fromMs && e.timeMs <= toMs),
  };
}

/** A past as the charts show it: all of it, up to its end, and nothing read off. */
export function shownPast(past: UnitHistory | null, place: ChartPlace = firstChartPlace): PastShown {
  const { fromMs, toMs, timeMs } = past ?? { fromMs: nightMs - 4 * hour, toMs: nightMs, timeMs: [0] };
  return { place, window: { fromMs, toMs, points: timeMs.length }, history: past, isCurrent: past !== null };
}

/** A source whose view is set by hand. */
export function fixtureSource(first: FleetView): FleetSource & { show(view: FleetView): void } {
  let view = first;
  const listeners = new Set<() => void>();
  return {
    current: () => view,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    history: (id, fromMs, toMs, points) => Promise.resolve(history(view, id, fromMs, toMs, points)),
    show(next) {
      view = next;
      for (const listener of listeners) listener();
    },
  };
}
