import { type Difference, differencesFrom, isConfirmed } from "../condition/commissioning.ts";
import { windowToLearn } from "../condition/learn-baseline.ts";
import { waterPressureKPa } from "../condition/operating.ts";
import type { UnitState } from "../engine.ts";
import { type Display, spoken } from "../fleet/display.ts";
import { localMinute } from "../fleet/local-clock.ts";
import type { Fleet } from "../fleet/unit.ts";
import { channelIndex } from "../terms/channels.ts";

/** What a view says of a unit's baseline. */
export interface BaselineWords {
  readonly baseline: "confirmed" | "provisional" | null;
  /** Why it is provisional or none, what became of it, and what to do; null where nothing is to be said. */
  readonly baselineNote: string | null;
  /** Somebody should answer: it differs from the commissioning record, or the unit was repaired since. */
  readonly baselineAsks: boolean;
}

export function baselineWords(
  state: UnitState,
  { display, timezone }: Pick<Fleet, "display" | "timezone">,
): BaselineWords {
  const { unit, condition } = state;
  const minuteOf = (timeMs: number): string => localMinute(timeMs, timezone);
  const { baseline, learning, relearnedMs, reconsider } = condition;
  if (baseline === null) {
    const why = whyNoBaseline(state);
    return { baseline: null, baselineNote: `${why[0].toUpperCase()}${why.slice(1)}.`, baselineAsks: false };
  }
  const confirmed = isConfirmed(unit, baseline);
  const differences = confirmed ? null : differencesFrom(unit, baseline);
  const notes: string[] = [];
  if (!confirmed) {
    notes.push(
      differences === null
        ? `Nobody has said that the unit ran clean from ${minuteOf(baseline.fromMs)} to ${minuteOf(baseline.toMs)}, when it was learned. If it did: ${command(unit.id, "confirm")}`
        : sayDifferences(unit.commissioning?.on, differences, display),
    );
  }
  if (learning !== null && relearnedMs !== null) {
    notes.push(
      `It is being learned anew since ${minuteOf(relearnedMs)}; until that is complete this one stays in use.`,
    );
  }
  if (reconsider !== null) {
    const on = minuteOf(reconsider.atMs).slice(0, 10);
    notes.push(
      `Since the ${reconsider.work} of ${on} it may no longer hold. If the unit runs otherwise now: ${command(unit.id, "relearn")}; if not: ${command(unit.id, "confirm")}`,
    );
  }
  return {
    baseline: confirmed ? "confirmed" : "provisional",
    baselineNote: notes.length === 0 ? null : notes.join(" "),
    baselineAsks: differences !== null || reconsider !== null,
  };
}

/** Why a unit has no baseline yet, in plain words. */
export function whyNoBaseline({ unit, condition }: UnitState): string {
  const window = windowToLearn(unit, condition.relearnedMs);
  if (window !== undefined) {
    const over = (condition.lastTimeMs ?? Number.NEGATIVE_INFINITY) >= window.fromMs + window.forMs;
    return over
      ? "no running in its baseline window, which is over: write another as `baseline` in the fleet file"
      : "no running in its baseline window yet";
  }
  if (condition.motor === "running" && condition.held[channelIndex.discharge_pressure] < waterPressureKPa) {
    return (
      `discharge pressure is under ${waterPressureKPa} kPa, which is not taken for clean running; ` +
      "if it is, give the time as `baseline` in the fleet file"
    );
  }
  return "no half hour of steady running seen yet";
}

function sayDifferences(
  on: string | undefined,
  differences: readonly Difference[],
  display: Display,
): string {
  const { value } = spoken(display);
  const said = differences.map(({ channel, recorded, learned }) => {
    const name = channel.replaceAll("_", " ");
    if (learned === null) return `${name} cannot be compared, the log lacks it`;
    const percent = Math.round(100 * (learned / recorded - 1));
    const by =
      channel === "motor_temperature" || recorded === 0
        ? ""
        : ` (${percent > 0 ? "+" : "-"}${Math.abs(percent)} %)`;
    return `${name} ${value(channel, learned)} against ${value(channel, recorded)}${by}`;
  });
  return `It differs from the commissioning record${on === undefined ? "" : ` of ${on}`}: ${said.join("; ")}.`;
}

function command(unit: string, step: "confirm" | "relearn"): string {
  return `tarnwatch service baseline FLEET ${unit} ${step}`;
}
