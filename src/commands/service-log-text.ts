import { clockTime, fullTime } from "../dashboard/local-time.ts";
import { quantityText } from "../dashboard/reading-text.ts";
import { takesBack } from "../fleet/services.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import type { Visit } from "../fleet/visit.ts";
import { gaugesIn } from "../report/gauge-words.ts";
import { visitFacts } from "../report/visit-words.ts";
import type { Channel } from "../terms/channels.ts";
import { fourDigits } from "../terms/number.ts";
import { visible } from "../terms/text.ts";
import { iso } from "../terms/time.ts";
import type { LogEntry } from "./service-log.ts";
import { wrapped } from "./wrapped.ts";

type Shown = Pick<Fleet, "timezone" | "display">;

/** A record as lines of text of a terminal's width. */
export function logLines({ record, effect, channel = "gas_pressure" }: LogEntry, shown: Shown): string[] {
  const { unit, work, atMs, by, note, visit } = record;
  const who = by === undefined ? "" : ` by ${visible(by)}`;
  const lines = [
    `${fullTime(atMs, shown.timezone)}  ${visible(unit)}  ${work} ${stepText(record, shown)}${who}`,
    ...(visit === undefined ? [] : visitLines(visit, shown)),
    ...(effect === undefined ? [] : [effectLine(effect, channel, shown)]),
    ...(note === undefined ? [] : [visible(note)]),
  ];
  const [first, ...rest] = lines;
  return [first, ...rest.flatMap((line) => wrapped(line, "  "))];
}

function stepText(record: ServiceRecord, { timezone }: Shown): string {
  const { work, step, untilMs } = record;
  if (takesBack(record)) return "taken back";
  if (work !== "planned stop" || step !== "begin") return stepWords[step];
  return untilMs === undefined ? "from then on" : `until ${fullTime(untilMs, timezone)}`;
}

const stepWords: Readonly<Record<ServiceRecord["step"], string>> = {
  begin: "begun",
  end: "ended",
  done: "done",
  lapse: "lapsed: nobody said that it was done",
  "taken-back": "taken back",
  confirm: "confirmed",
  relearn: "to be learned anew",
};

function visitLines(visit: Visit, shown: Shown): string[] {
  const { arrivedMs, leftMs, readMs } = visit;
  const clock = (timeMs: number): string => clockTime(timeMs, shown.timezone);
  const times = [
    ...(arrivedMs === undefined ? [] : [`arrived ${clock(arrivedMs)}`]),
    ...(leftMs === undefined ? [] : [`left ${clock(leftMs)}`]),
    ...(readMs === undefined ? [] : [`gauges read ${clock(readMs)}`]),
  ];
  return [...(times.length > 0 ? [times.join(", ")] : []), ...visitFacts(visit, shown.display)];
}

const verdicts = {
  worked: "it worked",
  "did not work": "it did not bring the line back",
  "nothing to tell": "there was too little fouling to tell",
} as const;

function effectLine(
  effect: NonNullable<LogEntry["effect"]>,
  channel: "gas_pressure" | "gas_flow",
  shown: Shown,
) {
  if (effect === "too early") return "whether it worked: not enough running kept before and after it to tell";
  const value = (stored: number): string => quantityText(channel, stored, shown.display);
  const what = channel === "gas_pressure" ? "gas pressure" : "gas flow";
  const { before, after, clean, verdict } = effect;
  return `${what} ${value(before)} before, ${value(after)} after, ${value(clean)} when clean: ${verdicts[verdict]}`;
}

/** A record as `service log --json` prints it: times RFC 3339, quantities in stored units. */
export function logJson({ record, effect, channel }: LogEntry): unknown {
  const { unit, work, step, atMs, untilMs, by, note, visit } = record;
  return {
    time: iso(atMs),
    unit,
    work,
    step,
    by: by ?? null,
    ...(untilMs !== undefined && { until: iso(untilMs) }),
    ...(note !== undefined && { note }),
    ...(visit && visitJson(visit)),
    ...(effect !== undefined && effect !== "too early" && { effect: { channel, ...effect } }),
  };
}

const rounded = (value: number | undefined): number | null =>
  value === undefined ? null : fourDigits(value);

function visitJson(visit: Visit) {
  const { arrivedMs, leftMs, readings, groundFault, parts, used, photos, skid } = visit;
  const gauges = Object.entries(gaugesIn(visit));
  return {
    ...(arrivedMs !== undefined && { arrived: iso(arrivedMs) }),
    ...(leftMs !== undefined && { left: iso(leftMs) }),
    ...(readings && {
      readings: {
        dissolved_oxygen_mg_l: rounded(readings.dissolvedOxygenMgL),
        secchi_depth_m: rounded(readings.secchiM),
        water_temperature_c: rounded(readings.waterTemperatureC),
      },
    }),
    ...(gauges.length > 0 && {
      ...(visit.readMs !== undefined && { gauges_read: iso(visit.readMs) }),
      gauges: Object.fromEntries(
        gauges.map(([channel, value]) => [
          channel,
          { value: rounded(value), logger: rounded(visit.logged?.[channel as Channel]?.mean) },
        ]),
      ),
    }),
    ...(groundFault && { ground_fault_test: groundFault }),
    ...(parts && { parts }),
    ...(used && { used }),
    ...(photos && { photos }),
    ...(skid && { skid }),
  };
}
