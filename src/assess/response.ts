import { type AlarmName, comparePriority, type Priority } from "../terms/alarms.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { hour } from "../terms/time.ts";
import type { Word } from "../terms/words.ts";
import type { AlarmLife } from "./life.ts";

/** What a person said, and when. */
export interface Said {
  readonly by: string;
  readonly atMs: number;
  readonly note?: string;
}

export interface Noted extends Said {
  /** It was said of all alarms of the unit. */
  readonly ofAll?: true;
}

/**
 * The second track of an alarm's life: what people have done about it. It changes no condition. Plain data; the words are
 * those of ANSI/ISA-18.2 and IEC 62682.
 */
export interface AlarmResponse {
  /** The raising that is to be answered, ms; null where there is none. */
  raisedMs: number | null;
  /** `seq` of the event that raised it. */
  seq: number;
  priority: Priority;
  /** When its condition returned to normal; null while that is active. */
  returnedMs: number | null;
  suppressed: boolean;
  /** It was raised within readings that were read late. */
  late: boolean;
  acknowledged: Said | null;
  shelved: (Said & { readonly untilMs: number }) | null;
  outOfService: Said | null;
  /** It stood when its settings changed, and is judged anew since, ms; absent once it has been told again. */
  anewMs?: number;
  /** The newest remark, of this alarm or of all the unit's. */
  noted?: Noted;
  /** When it was raised, over the last hour of them: oldest first. */
  raises: number[];
}

/** An alarm as people meet it; null: normal, nothing to answer. */
export type AlarmState =
  | "active-unacknowledged"
  | "active-acknowledged"
  | "returned-unacknowledged"
  | "shelved"
  | "suppressed"
  | "out-of-service";

export function startResponse(): AlarmResponse {
  return {
    raisedMs: null,
    seq: 0,
    priority: "prompt",
    returnedMs: null,
    suppressed: false,
    late: false,
    acknowledged: null,
    shelved: null,
    outOfService: null,
    raises: [],
  };
}

/** An alarm chatters where it was raised this often within an hour: nobody answers it each time (house choice). */
export const chatteringRaises = 4;
const mostRaises = 60;

export function chatters({ raises }: AlarmResponse, nowMs: number): boolean {
  return raises.filter((at) => at > nowMs - hour).length >= chatteringRaises;
}

/**
 * Takes in what the alarm's condition has done. `latches`: it stays until somebody acknowledges it after its return.
 * `late`: within readings that are read late. What came and went within such is history, and nobody's to answer.
 */
export function noteEvent(
  response: AlarmResponse,
  event: Pick<AlarmEvent, "timeMs" | "unit" | "event" | "priority" | "seq">,
  latches: boolean,
  late = false,
): void {
  const { timeMs, priority, seq } = event;
  switch (event.event) {
    case "raised":
    case "unsuppressed": {
      const again = chatters(response, timeMs) && response.acknowledged !== null;
      response.raises = [...response.raises.filter((at) => at > timeMs - hour), timeMs].slice(-mostRaises);
      response.suppressed = false;
      delete response.anewMs;
      response.raisedMs = timeMs;
      response.seq = seq;
      response.late = late;
      response.priority = priority;
      response.returnedMs = null;
      // One that chatters keeps its answer: it was heard.
      if (!again) response.acknowledged = null;
      return;
    }
    case "priority-changed":
      // More urgent than what was acknowledged is news.
      if (comparePriority(priority, response.priority) < 0) response.acknowledged = null;
      response.priority = priority;
      return;
    case "suppressed":
      response.suppressed = true;
      delete response.anewMs;
      response.raisedMs = null;
      response.returnedMs = null;
      return;
    case "settings-changed":
      response.suppressed = false;
      response.anewMs = timeMs;
      settleNormal(response);
      return;
    case "cleared": {
      const answered = response.suppressed || response.raisedMs === null;
      response.suppressed = false;
      if (answered) return;
      if ((response.acknowledged !== null && !latches) || (late && response.late)) settleNormal(response);
      else response.returnedMs = timeMs;
      return;
    }
  }
}

function settleNormal(response: AlarmResponse): void {
  response.raisedMs = null;
  response.returnedMs = null;
}

/** Takes in a person's word on this alarm. Answers whether it changed anything. */
export function takeWord(response: AlarmResponse, word: Word): boolean {
  const { by, atMs, note, untilMs } = word;
  const said: Said = { by, atMs, ...(note !== undefined && { note }) };
  switch (word.action) {
    case "acknowledge": {
      if (response.raisedMs === null) return false;
      if (word.raisedMs !== undefined && word.raisedMs !== response.raisedMs) return false;
      if (response.returnedMs === null && response.acknowledged !== null) return false;
      response.acknowledged ??= said;
      if (response.returnedMs !== null) settleNormal(response);
      return true;
    }
    case "shelve":
      if (untilMs === undefined || !(untilMs > atMs)) return false;
      response.shelved = { ...said, untilMs };
      return true;
    case "unshelve": {
      const was = response.shelved !== null;
      response.shelved = null;
      return was;
    }
    case "out-of-service":
      response.outOfService ??= said;
      return response.outOfService === said;
    case "return-to-service": {
      const was = response.outOfService !== null;
      response.outOfService = null;
      return was;
    }
    case "note":
      response.noted = { ...said, ...(word.alarm === "all" && { ofAll: true }) };
      return true;
  }
}

/** Ends what has reached its end by the clock. Answers whether anything ended. */
export function endShelving(response: AlarmResponse, nowMs: number): boolean {
  if (response.shelved === null || nowMs < response.shelved.untilMs) return false;
  response.shelved = null;
  return true;
}

/** How the alarm stands to people; `latches` as in `noteEvent`. */
export function responseState(
  response: AlarmResponse | undefined,
  life: Pick<AlarmLife, "told">,
  latches: boolean,
): AlarmState | null {
  const active = life.told === "raised" || life.told === "suppressed";
  const returned = response !== undefined && response.returnedMs !== null;
  if (!active && !returned) return null;
  if (response?.outOfService) return "out-of-service";
  if (life.told === "suppressed") return "suppressed";
  if (response?.shelved) return "shelved";
  const acknowledged = response !== undefined && response.acknowledged !== null;
  if (active || latches) return acknowledged ? "active-acknowledged" : "active-unacknowledged";
  return "returned-unacknowledged";
}

/** The responses of a unit's alarms; an alarm without one has nothing to answer and nothing set aside. */
export type UnitResponses = Partial<Record<AlarmName, AlarmResponse>>;
