import { z } from "zod";
import { frozenAfterMs } from "../condition/condition.ts";
import { doubt, type Features } from "../condition/features.ts";
import type { Spoken } from "../fleet/display.ts";
import { settingsAt } from "../fleet/limits.ts";
import { duration } from "../fleet/quantity.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Unit } from "../fleet/unit.ts";
import { type AlarmName, comparePriority, type Priority } from "../terms/alarms.ts";
import { type Channel, channelIndex, channels, channelUnit } from "../terms/channels.ts";
import { type CommonSettings, type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

export const sensorSettings = z.strictObject({
  /** The off-delay outlasts the quiet spells of a loose contact. */
  ...common({ delay: "30 s", off_delay: "5 min", priority: "low" }),
  /** A lively channel that reads exactly the same for so long while the pump runs and others move (common practice). */
  frozen_after: duration().default(frozenAfterMs),
});

type Settings = z.output<typeof sensorSettings>;

/** What this rule needs to know of the others: which channels they cannot do without. */
type Other = Pick<Rule<CommonSettings, unknown>, "alarm" | "needs" | "quiet" | "settings">;

/** Every channel that is judged, in the order of the evidence: all that are no status. */
const judged = channels.filter((channel) => channelUnit[channel] !== "");

/**
 * A channel is out of its physical range, has frozen, jumps as nothing on a skid can, or is contradicted by two
 * others. Conditioning has judged its readings and keeps them from `others`; this tells of it, and which of them
 * can no longer be judged. Medium where one of those is a high alarm.
 */
export function sensorFault(others: readonly Other[]): Rule<Settings, null> {
  /** By unit and sets of channels, a bit each, lost and left: asked for every reading while the alarm is on. */
  const urgencies = new WeakMap<Unit, Map<string, Priority>>();
  function urgencyOf(unit: Unit, lost: number, left: number): Priority {
    const known = urgencies.get(unit) ?? new Map<string, Priority>();
    urgencies.set(unit, known);
    const sets = `${lost} ${left}`;
    let urgency = known.get(sets);
    if (urgency === undefined) {
      const high = blinded(others, unit, lost, left).some(
        ({ alarm, settings }) => settingsAt(unit, alarm, settings).priority === "high",
      );
      urgency = high ? "medium" : "low";
      known.set(sets, urgency);
    }
    return urgency;
  }
  return {
    alarm: "sensor-fault",
    version: 1,
    needs: [judged],
    needsBaseline: false,
    settings: sensorSettings,
    evidence: judged.map((channel) => ({ name: channel, unit: channelUnit[channel] })),
    restates: true,
    start: () => null,
    /** `own`: the channels that are not trusted, a bit each. */
    run(_memory, { doubts, unit }, from, to, _settings, met, lost) {
      met.fill(verdict.no, from, to);
      if (doubts.every((column) => column === undefined)) return;
      lost.fill(0, from, to);
      for (const [s, { channel }] of signalsOf(unit).entries()) {
        const column = doubts[s];
        const bit = bitOf(channel);
        for (let row = from; column !== undefined && row < to; row++) {
          if (column[row] === doubt.none) continue;
          met[row] = verdict.met;
          lost[row] |= bit;
        }
      }
    },
    numbers(features, row) {
      const { unit, doubts, raw } = features;
      const signals = signalsOf(unit);
      const items = judged.flatMap((channel) => {
        const s = signals.findIndex((signal, i) => signal.channel === channel && doubts[i]?.[row]);
        const x = raw[s]?.[row] ?? Number.NaN;
        return [Number.isFinite(x) ? x : Number.NaN, doubts[s]?.[row] ?? doubt.none];
      });
      return [...items, measured(features)];
    },
    priorityAt: (features, row, { priority }, lost) => {
      const most = urgencyOf(features.unit, lost[row], measured(features));
      return comparePriority(most, priority) < 0 ? most : priority;
    },
    say(numbers, unit, spoken) {
      const lost = judged.filter((_, k) => numbers[2 * k + 1] !== doubt.none);
      const what = lost.map((channel) => {
        const k = judged.indexOf(channel);
        return sayDoubt(channel, numbers[2 * k + 1], numbers[2 * k], spoken);
      });
      const bits = lost.reduce((sum, channel) => sum | bitOf(channel), 0);
      const blind = blinded(others, unit, bits, numbers[2 * judged.length]).map(({ alarm }) => alarm);
      return `${capital(what.join("; "))}. ${sayBlind(blind, lost.length)}`;
    },
  };
}

/** A bit a channel: statuses are never lost, but may stand in for what is. */
const bitOf = (channel: Channel) => 1 << channelIndex[channel];

/** The channels that the log carries, a bit each. */
function measured({ raw }: Features): number {
  return channels.reduce((bits, channel, s) => (raw[s] === undefined ? bits : bits | bitOf(channel)), 0);
}

/** The rules that these channels have blinded: of some that they need one of, all that the log carries are lost. */
function blinded(others: readonly Other[], unit: Unit, lost: number, inLog: number): readonly Other[] {
  return others.filter(
    ({ needs, quiet }) =>
      quiet?.(unit, null) === undefined &&
      needs.some((need) => {
        const any: readonly Channel[] = typeof need === "string" ? [need] : need;
        const some = any.reduce((bits, channel) => bits | bitOf(channel), 0) & (inLog | lost);
        return some !== 0 && (some & ~lost) === 0;
      }),
  );
}

function sayDoubt(channel: Channel, why: number, x: number, { value }: Spoken): string {
  const name = channel.replaceAll("_", " ");
  const read = Number.isNaN(x) ? "" : ` ${value(channel, x)}`;
  switch (why) {
    case doubt.offScale:
      return `${name} read${read || " out of range"}, which it cannot be`;
    case doubt.frozen:
      return `${name} froze${read && ` at${read}`} while others moved`;
    case doubt.jumping:
      return `${name} jumped back and forth${read && ` (last${read})`} while all else was calm`;
    case doubt.contradicted:
      return `${name} read${read || " as at rest"} although two other gauges show the pump running`;
    case doubt.loopLow:
      return `the 4–20 mA loop of ${name} was at 3.6 mA or below, which signals its failure`;
    default:
      return `the 4–20 mA loop of ${name} was at 21 mA or above, which signals its failure`;
  }
}

function sayBlind(alarms: readonly AlarmName[], lost: number): string {
  const trusted = `${lost > 1 ? "They are" : "It is"} not trusted`;
  if (alarms.length === 0) return `${trusted}; every alarm can still be judged.`;
  return `${trusted}; what can no longer be judged: ${alarms.join(", ")}.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
