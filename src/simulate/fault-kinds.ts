import type { AlarmName } from "../terms/alarms.ts";
import { day, hour, minute, second } from "../terms/time.ts";

/** One way in which a skid, its supply or its logger goes wrong. */
export interface FaultEntry {
  /** The alarm that ought to tell of it. */
  readonly alarm: AlarmName;
  /** What happens, and what a severity of 1 means, in the trade's words. */
  readonly what: string;
  /** Usual severities, least and most; 1 is as bad as the plant makes it. */
  readonly severity: readonly [number, number];
  /** Usual time from onset to full severity, ms. */
  readonly courseMs: readonly [number, number];
  /** Usual time from onset until it is mended, ms. */
  readonly lastsMs: readonly [number, number];
}

const once = [0, 0] as const;
const soon = [0, 2 * minute] as const;
const hours = (from: number, to: number) => [from * hour, to * hour] as const;
const days = (from: number, to: number) => [from * day, to * day] as const;

function entry(
  alarm: AlarmName,
  what: string,
  severity: FaultEntry["severity"],
  courseMs: FaultEntry["courseMs"],
  lastsMs: FaultEntry["lastsMs"],
): FaultEntry {
  return { alarm, what, severity, courseMs, lastsMs };
}

/** Every fault that the plant knows, in the order of the alarms. */
export const faultKinds = {
  "suction-uncovered": entry(
    "lost-prime",
    "the suction end comes out of the water and the casing fills with air",
    [1, 1],
    [0, 30 * second],
    hours(0.5, 4),
  ),
  "suction-union-open": entry(
    "failed-to-prime",
    "a leak above the water keeps the next starts from drawing water",
    [1, 1],
    once,
    hours(1, 6),
  ),
  "suction-blocked": entry(
    "cavitation",
    "something covers the suction screen; 1: its resistance grows fiftyfold and water boils in the eye",
    [0.6, 1],
    soon,
    hours(0.5, 6),
  ),
  "strainer-clogged": entry(
    "suction-restricted",
    "weed in the strainer; 1: the suction line's resistance grows tenfold",
    [0.35, 0.9],
    [10 * minute, 2 * day],
    hours(4, 24),
  ),
  "foot-valve-shut": entry(
    "suction-restricted",
    "the foot valve sticks shut and the flow stops under a deep vacuum",
    [1, 1],
    once,
    hours(0.5, 3),
  ),
  "suction-leak": entry(
    "suction-air",
    "air is drawn in with the water by a leak or a vortex; 1: a quarter of the casing",
    [0.35, 1],
    soon,
    hours(0.5, 12),
  ),
  "generator-blocked": entry(
    "discharge-restricted",
    "the bubble generator or its line blocks; 1: four times its resistance",
    [0.3, 1],
    soon,
    hours(0.5, 12),
  ),
  "line-parted": entry(
    "discharge-open",
    "the discharge line parts; 1: at the pump, with a tenth of its resistance left",
    [0.4, 1],
    once,
    hours(0.5, 6),
  ),
  "impeller-weeded": entry(
    "impeller-fouled",
    "weed or wear in the impeller; 1: four tenths of the head is lost",
    [0.35, 0.9],
    [5 * minute, 1 * day],
    hours(4, 24),
  ),
  "cooling-blocked": entry(
    "overheating",
    "leaves or a cover take the motor's air; 1: a tenth of the cooling is left",
    [0.3, 1],
    [0, 6 * hour],
    hours(3, 12),
  ),
  "bearing-seizing": entry(
    "overcurrent",
    "a bearing or a stone drags on the shaft; 1: twice the shaft power",
    [0.7, 1],
    [0, 30 * minute],
    hours(0.5, 4),
  ),
  "voltage-low": entry(
    "overcurrent",
    "the supply sags under a loaded motor; 1: three tenths below the nameplate",
    [0.9, 1],
    soon,
    hours(0.5, 4),
  ),
  "rotor-locked": entry(
    "locked-rotor",
    "the shaft is held and each start draws its starting current until the protector trips",
    [1, 1],
    once,
    hours(0.3, 2),
  ),
  "protector-tripped": entry(
    "not-running",
    "the motor's protector or its switch is open",
    [1, 1],
    once,
    hours(0.5, 8),
  ),
  "supply-lost": entry("not-running", "the outlet has no power", [1, 1], once, hours(0.5, 8)),
  "relay-chattering": entry(
    "short-cycling",
    "the controller starts and stops the pump; 1: sixteen starts an hour, 0: eight",
    [0.3, 1],
    once,
    hours(2, 8),
  ),
  "protector-cycling": entry(
    "short-cycling",
    "the thermal protector opens after some minutes and closes again",
    [1, 1],
    once,
    hours(2, 8),
  ),
  "gas-line-fouling": entry(
    "gas-pressure-drift",
    "the gas line scales up; 1: its pressure rises 10 % a day",
    [0.1, 0.4],
    once,
    days(6, 12),
  ),
  "gas-feed-weak": entry(
    "gas-supply-low",
    "the gas source gives less; 1: nothing is left of its pressure over the water's",
    [0.6, 0.9],
    soon,
    hours(1, 12),
  ),
  "gas-feed-stopped": entry(
    "gas-backflow-risk",
    "the gas source fails or its tube is off; 1: no gas pressure at all",
    [1, 1],
    once,
    hours(1, 12),
  ),
  "ozone-cell-off": entry("ozone-off", "the ozone cell stays off", [1, 1], once, hours(1, 12)),
  "ozone-cell-fault": entry("ozone-off", "the ozone cell reports a fault", [1, 1], once, hours(1, 12)),
  "ozone-relay-welded": entry(
    "ozone-while-stopped",
    "the cell's relay is welded: it stays on when the pump stops",
    [1, 1],
    once,
    hours(14, 30),
  ),
  "flow-switch-stuck": entry(
    "ozone-without-water",
    "the suction end is uncovered and the flow switch keeps the ozone on",
    [1, 1],
    soon,
    hours(0.5, 4),
  ),
  "ozone-not-bypassed": entry(
    "ozone-not-allowed",
    "the cell of a unit without leave for ozone is switched on",
    [1, 1],
    once,
    hours(1, 12),
  ),
  "ozone-leak": entry(
    "ozone-in-air",
    "ozone leaks into the enclosure; 1: 0.3 ppm in its air while the cell is on",
    [0.6, 1],
    [0, 10 * minute],
    hours(1, 6),
  ),
  "sensor-frozen": entry("sensor-fault", "an instrument keeps its last value", [1, 1], once, hours(2, 12)),
  "sensor-off-scale": entry("sensor-fault", "an instrument's line is broken", [1, 1], once, hours(1, 12)),
  "sensor-jumping": entry(
    "sensor-fault",
    "a loose contact makes an instrument jump",
    [1, 1],
    once,
    hours(1, 8),
  ),
  "logger-silent": entry("readings-stale", "the logger writes nothing", [1, 1], once, hours(0.3, 8)),
  "clock-set-back": entry(
    "clock-fault",
    "the logger's clock is set back by 20 min",
    [1, 1],
    once,
    hours(1, 8),
  ),
  "bearing-worn": entry(
    "unusual-running",
    "a worn bearing takes more power and nothing else changes; 1: a third more",
    [0.5, 0.8],
    [10 * minute, 12 * hour],
    hours(12, 48),
  ),
  frost: entry(
    "freeze-risk",
    "a cold night at a unit that stands still; 1: 25 K colder than usual",
    [0.9, 1],
    hours(2, 4),
    hours(8, 20),
  ),
} as const satisfies Readonly<Record<string, FaultEntry>>;

export type FaultKind = keyof typeof faultKinds;

/** Their names in the order of the alarms. */
export const faultNames = Object.keys(faultKinds) as FaultKind[];
