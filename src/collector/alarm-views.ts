import { guidance } from "../advise/guidance.ts";
import type { AlarmLife } from "../assess/life.ts";
import {
  type AlarmResponse,
  type AlarmState,
  chatters,
  responseState,
  type UnitResponses,
} from "../assess/response.ts";
import { sayStale, sayWasStale } from "../detect/readings-stale.ts";
import { type UnitState, unitOverdueWords } from "../engine.ts";
import { type Spoken, spoken } from "../fleet/display.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { type AlarmName, alarmOrder, comparePriority } from "../terms/alarms.ts";
import { day, hour, second } from "../terms/time.ts";
import { clearingOf } from "./clearing.ts";
import type { AlarmView, Note, SetAside } from "./fleet-view.ts";

/** Whether an alarm stays until somebody acknowledges it after its return: a unit's `latched`. */
export function latches({ limits }: Unit, alarm: AlarmName): boolean {
  return limits[alarm]?.latched === true;
}

/** A unit's alarms that are active, or not yet answered, most urgent first. */
export function alarmViews(
  state: UnitState,
  responses: UnitResponses,
  display: Fleet["display"],
  clockMs: number,
): AlarmView[] {
  const words = spoken(display);
  return state.lives
    .flatMap((life): AlarmView[] => {
      const response = responses[life.alarm];
      const people = responseState(response, life, latches(state.unit, life.alarm));
      return people === null ? [] : [alarmView(life, state, response, people, words, clockMs)];
    })
    .sort((a, b) => comparePriority(a.priority, b.priority) || alarmOrder[a.alarm] - alarmOrder[b.alarm]);
}

function alarmView(
  life: AlarmLife,
  state: UnitState,
  response: AlarmResponse | undefined,
  people: AlarmState,
  words: Spoken,
  clockMs: number,
): AlarmView {
  const { unit, rules } = state;
  const { alarm, sinceMs, by, numbers, evidence } = life;
  const rule = rules.find((candidate) => candidate.life === life)?.rule;
  const isOver = life.told !== "raised" && life.told !== "suppressed";
  const clearing = clearingOf(life, state, clockMs);
  const priority = isOver ? (response?.priority ?? life.priority) : life.priority;
  return {
    alarm,
    priority,
    sinceMs,
    raisedMs: response?.raisedMs ?? (life.told === "suppressed" ? life.firstToldMs : null) ?? life.raisedMs,
    state: people,
    ...(response && response.raisedMs !== null && { id: `${unit.id}/${response.seq}` }),
    ...(response?.acknowledged && { acknowledged: response.acknowledged }),
    ...(response?.noted && !response.noted.ofAll && { noted: response.noted }),
    ...(response && response.returnedMs !== null && { returnedMs: response.returnedMs }),
    ...(clearing && { clearing }),
    ...(latches(unit, alarm) && { latched: true as const }),
    ...(response &&
      chatters(response, clockMs) && {
        chattering: response.raises.filter((at) => at > clockMs - hour).length,
      }),
    by,
    message: rule?.say(numbers, unit, words) ?? clockWords(alarm, state, sinceMs, clockMs),
    ...(life.saidMs !== undefined && { saidMs: life.saidMs }),
    evidence,
    guidance: guidance(alarm, priority, unit),
  };
}

/** The reason for an alarm that looks at a clock, as it stands now, or as it was where it is over. */
function clockWords(alarm: AlarmName, state: UnitState, sinceMs: number, clockMs: number): string {
  if (alarm === "clock-fault") return state.clock.life.message;
  if (alarm === "service-overdue") return unitOverdueWords(state, clockMs);
  const { phase, evidence } = state.stale;
  return phase === "on"
    ? sayStale(state.unit, clockMs - sinceMs)
    : sayWasStale(Number(evidence.last_reading_age?.value) * second);
}

/** What people have shelved or taken out of service. */
export function setAside(responses: UnitResponses): SetAside[] {
  return Object.entries(responses).flatMap(([name, { shelved, outOfService }]): SetAside[] => {
    const alarm = name as AlarmName;
    if (outOfService) return [{ alarm, state: "out-of-service", ...outOfService }];
    return shelved ? [{ alarm, state: "shelved", ...shelved }] : [];
  });
}

/** Older remarks are looked up in the history (house choice). */
const notesShownMs = 7 * day;

/** The newest remarks of a unit's alarms, a remark of all of them once; the newest first. */
export function notesIn(responses: UnitResponses, clockMs: number): Note[] {
  const notes = Object.entries(responses).flatMap(([alarm, { noted }]): Note[] => {
    if (noted === undefined || noted.atMs < clockMs - notesShownMs) return [];
    const { ofAll, ...said } = noted;
    return [{ ...said, alarm: ofAll ? "all" : (alarm as AlarmName) }];
  });
  const first = ({ alarm, atMs, by }: Note): number =>
    notes.findIndex((one) => one.alarm === alarm && one.atMs === atMs && one.by === by);
  return notes.filter((note, place) => first(note) === place).sort((a, b) => b.atMs - a.atMs);
}
