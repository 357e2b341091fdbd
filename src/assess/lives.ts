import { type AlarmName, alarmNames, type Priority } from "../terms/alarms.ts";
import type { AlarmEvent } from "../terms/events.ts";
import type { Word } from "../terms/words.ts";
import { type AlarmResponse, endShelving, noteEvent, startResponse, takeWord } from "./response.ts";

/** What the lives of alarms need of an event. */
export type Told = Pick<AlarmEvent, "timeMs" | "unit" | "alarm" | "event" | "priority" | "sinceMs" | "seq">;

export interface Source {
  readonly unit: string;
  readonly alarm: AlarmName;
}

/** One raising of an alarm, and what became of it. */
export interface Raising extends Source {
  readonly raisedMs: number;
  /** When it was an alarm: at once, or when it ceased to be a prompt; null while it is one. */
  alarmMs: number | null;
  /** Its priority then. */
  priority: Priority;
  /** When people were told; null where nobody was. */
  announcedMs: number | null;
  /** It chattered and kept its answer: nobody was asked again. */
  readonly keptAnswer: boolean;
  acknowledgedMs: number | null;
  /** First reading back to normal. */
  returnedMs: number | null;
}

/** A stretch in which an alarm stood before people. */
export interface Stood extends Source {
  /** When it had become an alarm. */
  readonly alarmMs: number;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface Track extends Source {
  readonly response: AlarmResponse;
  raising: Raising | null;
  stoodFromMs: number | null;
}

/** Lives of a fleet's alarms as they are told, from the first kept event on; `sinceMs`: what is remembered. */
export interface Lives {
  readonly sinceMs: number;
  readonly tracks: Map<string, Track>;
  readonly shelved: Set<Track>;
  /** No shelving ends before. */
  nextEndMs: number;
  /** What people said, in the order in which it counts, and how much of it has been taken in. */
  readonly words: readonly Word[];
  said: number;
  readonly byRaising: Map<string, Raising>;
  /** In order of time. */
  readonly announced: Raising[];
  /** Became alarms while they were shelved, or out of service: nobody was told then. */
  readonly whileShelved: Raising[];
  readonly whileOutOfService: Raising[];
  readonly stood: Stood[];
  readonly suppressedMs: number[];
  readonly shelvedMs: number[];
  readonly outOfServiceMs: number[];
}

export function startLives(words: readonly Word[], sinceMs: number): Lives {
  return {
    sinceMs,
    tracks: new Map(),
    shelved: new Set(),
    nextEndMs: Number.POSITIVE_INFINITY,
    words: inOrder(words),
    said: 0,
    byRaising: new Map(),
    announced: [],
    whileShelved: [],
    whileOutOfService: [],
    stood: [],
    suppressedMs: [],
    shelvedMs: [],
    outOfServiceMs: [],
  };
}

/** The same lives, once more was said that counts after all that has been told. */
export function hearing(lives: Lives, words: readonly Word[]): Lives {
  return { ...lives, words: inOrder(words) };
}

function inOrder(words: readonly Word[]): readonly Word[] {
  return words.toSorted((a, b) => countsMs(a) - countsMs(b));
}

/** When a word counts, ms. A logger's clock may be ahead: nobody acknowledges what has not been raised. */
export function countsMs({ atMs, raisedMs = atMs }: Word): number {
  return Math.max(atMs, raisedMs);
}

/** Takes in an event. Events come in order of time. */
export function tell(lives: Lives, event: Told): void {
  goOnTo(lives, event.timeMs, true);
  const track = trackOf(lives, event.unit, event.alarm);
  const { response } = track;
  const { timeMs, priority } = event;
  noteEvent(response, event, false);
  if (event.event === "raised" || event.event === "unsuppressed") {
    track.raising = {
      unit: event.unit,
      alarm: event.alarm,
      raisedMs: timeMs,
      alarmMs: null,
      priority,
      announcedMs: null,
      keptAnswer: response.acknowledged !== null,
      acknowledgedMs: null,
      returnedMs: null,
    };
    if (timeMs >= lives.sinceMs) lives.byRaising.set(raisingKey(event, timeMs), track.raising);
  } else if (event.event === "cleared" && track.raising !== null) track.raising.returnedMs ??= event.sinceMs;
  else if (event.event === "suppressed" && priority !== "prompt" && timeMs >= lives.sinceMs) {
    lives.suppressedMs.push(timeMs);
  }
  settle(lives, track, timeMs);
}

/** Takes in what people said, and which shelvings ended, before `toMs`; with `ending` the shelvings that end then. */
export function goOnTo(lives: Lives, toMs: number, ending = false): void {
  for (;;) {
    const word = lives.words[lives.said];
    const wordMs = word === undefined ? Number.POSITIVE_INFINITY : countsMs(word);
    const endMs = lives.nextEndMs;
    if (endMs <= wordMs && (ending ? endMs <= toMs : endMs < toMs)) endShelvings(lives, endMs);
    else if (wordMs < toMs) {
      lives.said++;
      hear(lives, word, wordMs);
    } else return;
  }
}

function endShelvings(lives: Lives, nowMs: number): void {
  lives.nextEndMs = Number.POSITIVE_INFINITY;
  for (const track of lives.shelved) {
    if (endShelving(track.response, nowMs)) settle(lives, track, nowMs);
    else noteEnd(lives, track);
  }
}

function noteEnd(lives: Lives, { response: { shelved } }: Track): void {
  if (shelved !== null) lives.nextEndMs = Math.min(lives.nextEndMs, shelved.untilMs);
}

function hear(lives: Lives, word: Word, timeMs: number): void {
  let changed = false;
  for (const alarm of word.alarm === "all" ? alarmNames : [word.alarm]) {
    const track = trackOf(lives, word.unit, alarm);
    const took = takeWord(track.response, word);
    changed ||= took;
    if (word.action === "acknowledge") {
      const { raisedMs } = word;
      const meant = raisedMs === undefined ? null : lives.byRaising.get(raisingKey(track, raisedMs));
      const raising = meant ?? (took ? track.raising : null);
      if (raising !== null && raising.alarmMs !== null) raising.acknowledgedMs ??= timeMs;
    }
    settle(lives, track, timeMs);
  }
  if (!changed || timeMs < lives.sinceMs) return;
  if (word.action === "shelve") lives.shelvedMs.push(timeMs);
  if (word.action === "out-of-service") lives.outOfServiceMs.push(timeMs);
}

/** Notes what has changed before people. */
function settle(lives: Lives, track: Track, timeMs: number): void {
  const { response, raising } = track;
  if (response.shelved === null) lives.shelved.delete(track);
  else {
    lives.shelved.add(track);
    noteEnd(lives, track);
  }
  const isAside = response.shelved !== null || response.outOfService !== null;
  const isAlarm = isActive(response) && response.priority !== "prompt";
  if (raising !== null && isAlarm) {
    const remembered = timeMs >= lives.sinceMs;
    if (raising.alarmMs === null) {
      raising.alarmMs = timeMs;
      raising.priority = response.priority;
      if (isAside && remembered) {
        (response.outOfService ? lives.whileOutOfService : lives.whileShelved).push(raising);
      }
    }
    if (!isAside && raising.announcedMs === null && raising.acknowledgedMs === null) {
      raising.announcedMs = timeMs;
      raising.priority = response.priority;
      if (remembered) lives.announced.push(raising);
    }
  }
  const stands = isAlarm && !isAside;
  if (stands === (track.stoodFromMs !== null)) return;
  if (!stands) lives.stood.push(...stretch(track, timeMs, lives.sinceMs));
  track.stoodFromMs = stands ? timeMs : null;
}

function isActive({ raisedMs, returnedMs }: AlarmResponse): boolean {
  return raisedMs !== null && returnedMs === null;
}

/** The stretch in which an alarm has stood before people up to `toMs`; none where it does not. */
export function stretch(
  { unit, alarm, raising, stoodFromMs }: Track,
  toMs: number,
  sinceMs: number,
): Stood[] {
  const alarmMs = raising?.alarmMs ?? null;
  if (stoodFromMs === null || alarmMs === null || toMs <= sinceMs) return [];
  return [{ unit, alarm, alarmMs, fromMs: stoodFromMs, toMs }];
}

function trackOf(lives: Lives, unit: string, alarm: AlarmName): Track {
  const key = `${unit}/${alarm}`;
  const there = lives.tracks.get(key);
  if (there !== undefined) return there;
  const track = { unit, alarm, response: startResponse(), raising: null, stoodFromMs: null };
  lives.tracks.set(key, track);
  return track;
}

function raisingKey({ unit, alarm }: Source, raisedMs: number): string {
  return `${unit}/${alarm}/${raisedMs}`;
}
