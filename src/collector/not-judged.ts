import { type AnyRule, rules } from "../detect/rules.ts";
import { type UnitState, unitIntervalMs } from "../engine.ts";
import type { Unit } from "../fleet/unit.ts";
import type { AlarmName } from "../terms/alarms.ts";
import { type Channel, channelIndex, mainChannels } from "../terms/channels.ts";
import { whyNoBaseline } from "./baseline-note.ts";
import type { NotJudged } from "./fleet-view.ts";

const noSchedule = "neither `runs` in the fleet file nor a run command in the log";

/** The rules that cannot judge this unit now, with the reason, and what somebody could add so that they can. */
export function notJudged(state: UnitState): NotJudged[] {
  const { unit, condition } = state;
  const seen = (channel: Channel): boolean => condition.seen[channelIndex[channel]] ?? false;
  const found = rules.flatMap((rule): readonly NotJudged[] => {
    const { alarm } = rule;
    const unmet = rule.needs.map(anyOf).filter((any) => !any.some(seen));
    const [first] = unmet;
    if (first !== undefined) {
      const why =
        condition.lastTimeMs === null ? "no reading yet" : `no ${first.map(words).join(" or ")} in the log`;
      const lacks = unmet.map((any) => wanted(any, unit));
      return [reason(alarm, why, lacks.some(({ length }) => length === 0) ? [] : lacks.flat())];
    }
    const quiet = rule.quiet?.(unit, condition.baseline, unitIntervalMs(state));
    if (typeof quiet === "string") return [reason(alarm, quiet, [])];
    if (quiet !== undefined) return [reason(alarm, quiet.why, [quiet.lacks])];
    if (!needsOne(rule, unit) || condition.baseline !== null) return [];
    return [reason(alarm, whyNoBaseline(state), ["baseline"])];
  });
  const untold = unit.runs === undefined && !seen("run_command");
  return untold && !found.some(({ alarm }) => alarm === "not-running")
    ? [...found, reason("not-running", noSchedule, ["`runs`"])]
    : found;
}

function reason(alarm: AlarmName, why: string, lacks: readonly string[]): NotJudged {
  return lacks.length === 0 ? { alarm, why } : { alarm, why, lacks };
}

const words = (channel: Channel): string => channel.replaceAll("_", " ");

function anyOf(need: Channel | readonly Channel[]): readonly Channel[] {
  return typeof need === "string" ? [need] : need;
}

/** What of these its log should have and lacks; none where its fleet file says so, or where no skid has to have any. */
function wanted(any: readonly Channel[], { notMeasured, ozone }: Unit): readonly string[] {
  const isChoice = (channel: Channel): boolean =>
    notMeasured?.includes(channel) === true || (channel === "ozone" && ozone === "none");
  return mainChannels.filter((channel) => any.includes(channel) && !isChoice(channel)).map(words);
}

function needsOne({ needsBaseline }: AnyRule, unit: Unit): boolean {
  return typeof needsBaseline === "function" ? needsBaseline(unit) : needsBaseline;
}
