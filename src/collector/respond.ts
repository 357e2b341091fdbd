import { noteEvent, startResponse, takeWord, type UnitResponses } from "../assess/response.ts";
import type { Unit } from "../fleet/unit.ts";
import { alarmNames } from "../terms/alarms.ts";
import type { AlarmEvent } from "../terms/events.ts";
import type { StoredWord } from "../terms/words.ts";
import { latches } from "./alarm-views.ts";

/** Takes in what an alarm's condition has done; `late`: within readings that are read late. */
export function noteIn(responses: UnitResponses, unit: Unit, event: AlarmEvent, late = false): void {
  noteEvent(responseIn(responses, event.alarm), event, latches(unit, event.alarm), late);
}

/** Takes in a person's word. */
export function hearIn(responses: UnitResponses, word: StoredWord): void {
  const alarms = word.alarm === "all" ? alarmNames : [word.alarm];
  for (const alarm of alarms) takeWord(responseIn(responses, alarm), word);
}

/** Takes in events and words by their times. */
export function respond(
  responses: UnitResponses,
  unit: Unit,
  events: readonly AlarmEvent[],
  words: readonly StoredWord[],
): void {
  let said = 0;
  for (const event of events) {
    while (said < words.length && words[said].atMs < event.timeMs) hearIn(responses, words[said++]);
    noteIn(responses, unit, event);
  }
  for (; said < words.length; said++) hearIn(responses, words[said]);
}

function responseIn(responses: UnitResponses, alarm: AlarmEvent["alarm"]) {
  const response = responses[alarm] ?? startResponse();
  responses[alarm] = response;
  return response;
}
