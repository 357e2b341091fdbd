import { endShelving } from "../assess/response.ts";
import { foundAt } from "../fleet/found.ts";
import { localMinute } from "../fleet/local-clock.ts";
import { takesBack } from "../fleet/services.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { StoredService } from "../store/services.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { hour, minute } from "../terms/time.ts";
import { type Following, hear } from "./following.ts";
import { hasReadMuch, keepUnits, noteChange, tryAgainMs, unitsToKeep } from "./keep-units.ts";
import type { Keeping, Said } from "./keeping.ts";
import { type Restored, readingHash, restore, servicesToPlay, startAnew } from "./restore.ts";

/** How often summaries that have been kept long enough are looked for. */
const dropEveryMs = 6 * hour;
/** The first time not before everything stands on the screen. */
const dropFirstMs = minute;

/** Keeps a fleet's units in the state folder, and brings what people say to them. */
export interface Keeper {
  /** A unit as it was kept, or as it begins where nothing was. */
  restored(unit: Unit): Restored;
  /** A unit has just given a batch, and stands where its log's `save` says. */
  afterBatch(following: Following): void;
  /** Keeps what units have told, and takes in what people have said; true where that changed anything. */
  look(): boolean;
  say(said: Said): string | null;
  /** What people began and never said the end of, a line each. */
  reminders(): readonly string[];
  /** Why nothing can be kept at present. */
  problem(): string | null;
  /** Keeps all, and takes in nothing more. */
  close(): void;
}

/** `units` are those that are followed, by their id; `nowMs` is the fleet's clock; `onKept` hears of events once they are kept. */
export function startKeeper(
  keeping: Keeping,
  fleet: Fleet,
  units: ReadonlyMap<string, Following>,
  nowMs: () => number,
  onKept?: (event: AlarmEvent) => void,
): Keeper {
  const hashes = new Map(fleet.units.map((unit) => [unit.id, readingHash(unit, fleet)]));
  const services: StoredService[] = [...keeping.servicesAfter(0)];
  /** The rows of the last word and service that were read, and as of which version. */
  let wordRow = 0;
  let serviceRow = services.at(-1)?.row ?? 0;
  let seen = "";
  let dropAtMs = performance.now() + dropFirstMs;
  let closed = false;
  let againMs = Number.NEGATIVE_INFINITY;

  const keep = (chosen: readonly Following[], closing = false): void => {
    if (!closing && performance.now() < againMs) return;
    const withHash = chosen.map((following) => ({
      following,
      reading: hashes.get(following.player.state.unit.id) ?? "",
    }));
    againMs = keepUnits(keeping, withHash, nowMs(), closing, onKept)
      ? Number.NEGATIVE_INFINITY
      : performance.now() + tryAgainMs;
  };

  const hearAll = (): boolean => {
    const version = keeping.version();
    if (version === seen) return false;
    seen = version;
    let changed = false;
    for (const word of keeping.wordsAfter(wordRow)) {
      wordRow = word.row;
      const following = units.get(word.unit);
      if (following === undefined || !hear(following, word)) continue;
      noteChange(following, true);
      changed = true;
    }
    const fresh = keeping.servicesAfter(serviceRow);
    services.push(...fresh);
    serviceRow = services.at(-1)?.row ?? serviceRow;
    for (const id of new Set(fresh.map(({ unit }) => unit))) {
      const following = units.get(id);
      if (following === undefined) continue;
      const { player } = following;
      const { playedMs } = player;
      const mine = services.filter(({ unit }) => unit === id);
      const waiting = player.services.filter(({ atMs }) => atMs <= playedMs);
      const played = { playedMs, waiting, row: following.serviceRow };
      player.services = servicesToPlay(player.state.unit, fleet, mine, played);
      following.found = foundAt(player.state.unit, mine);
      following.serviceRow = mine.at(-1)?.row ?? following.serviceRow;
      noteChange(following, true);
      changed = true;
    }
    return changed;
  };

  const dropOld = (): void => {
    if (performance.now() < dropAtMs) return;
    dropAtMs = performance.now() + dropEveryMs;
    keeping.dropOld(nowMs());
  };

  const endShelvings = (): boolean => {
    let changed = false;
    for (const following of units.values()) {
      for (const response of Object.values(following.responses)) {
        if (!endShelving(response, nowMs())) continue;
        noteChange(following, true);
        changed = true;
      }
    }
    return changed;
  };

  return {
    restored: (unit) => {
      const saved = keeping.load(unit.id);
      const mine = services.filter((one) => one.unit === unit.id);
      return saved === null ? startAnew(unit, fleet, mine) : restore(unit, fleet, saved, mine);
    },
    afterBatch: (following) => {
      noteChange(following);
      if (following.behind && hasReadMuch(following)) keep([following]);
    },
    look: () => {
      if (closed) return false;
      dropOld();
      const heard = hearAll();
      const ended = endShelvings();
      keep(unitsToKeep(units.values()));
      return heard || ended;
    },
    say: (said) => keeping.say(said),
    reminders: () => lapsed(services, nowMs()).map((one) => lapseWords(one, fleet.timezone)),
    problem: () => keeping.problem(),
    close: () => {
      keep(
        [...units.values()].filter(({ reading, changedMs }) => !reading && changedMs !== null),
        true,
      );
      closed = true;
    },
  };
}

/** Services that were begun and have ended by themselves, where nothing of the kind was recorded since. */
export function lapsed(records: readonly StoredService[], nowMs: number): StoredService[] {
  return records.filter((record) => {
    const { unit, work, step, atMs, untilMs } = record;
    return (
      step === "begin" &&
      work !== "planned stop" &&
      !takesBack(record) &&
      untilMs !== undefined &&
      untilMs <= nowMs &&
      !records.some(
        (later) =>
          later.unit === unit &&
          later.work === work &&
          later.atMs >= atMs &&
          (later.step !== "begin" || later.atMs > atMs || takesBack(later)),
      )
    );
  });
}

/** The reminder of a service that ended by itself, with its times in `timezone`. */
export function lapseWords(
  { unit, work, by, atMs, untilMs = atMs }: StoredService,
  timezone: string,
): string {
  const at = (timeMs: number): string => localMinute(timeMs, timezone);
  return `${unit}: the ${work} that ${visible(by)} began at ${at(atMs)} ended by itself at ${at(untilMs)}; record it as done (service done), or begin it anew`;
}
