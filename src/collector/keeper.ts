import { endShelving } from "../assess/response.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { StoredService } from "../store/services.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { iso } from "../terms/time.ts";
import { type Following, hear } from "./following.ts";
import { hasReadMuch, keepUnits, noteChange, tryAgainMs, unitsToKeep } from "./keep-units.ts";
import type { Keeping, Said } from "./keeping.ts";
import { type Restored, readingHash, restore, servicesToPlay } from "./restore.ts";

/** Keeps a fleet's units in the state folder, and brings what people say to them. */
export interface Keeper {
  /** A unit as it was kept; undefined where nothing was. */
  restored(unit: Unit): Restored | undefined;
  /** A unit has just given a batch, and stands where its log's `save` says. */
  afterBatch(following: Following): void;
  /** Keeps what units have told, and takes in what people have said; true where that changed anything. */
  look(): boolean;
  say(said: Said): string | null;
  /** What people began and never said the end of, a line each. */
  reminders(): readonly string[];
  /** Why nothing can be kept at present. */
  problem(): string | null;
  /** Keeps all. */
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
  const services: StoredService[] = [...keeping.takeServices()];
  /** Words that were said before the units were followed. */
  let words = [...keeping.takeWords()];
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
    let changed = false;
    words.push(...keeping.takeWords());
    for (const word of words) {
      const following = units.get(word.unit);
      if (following === undefined) continue;
      hear(following, word);
      noteChange(following, true);
      changed = true;
    }
    words = [];
    const fresh = keeping.takeServices();
    services.push(...fresh);
    for (const id of new Set(fresh.map(({ unit }) => unit))) {
      const following = units.get(id);
      if (following === undefined) continue;
      const { player, serviceRow } = following;
      const mine = services.filter(({ unit }) => unit === id);
      player.services = servicesToPlay(player.state.unit, fleet, mine, player.playedMs, serviceRow);
      following.serviceRow = mine.at(-1)?.row ?? serviceRow;
      noteChange(following, true);
      changed = true;
    }
    return changed;
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
      return saved === null ? undefined : restore(unit, fleet, saved, mine);
    },
    afterBatch: (following) => {
      noteChange(following);
      if (following.behind && hasReadMuch(following)) keep([following]);
    },
    look: () => {
      const heard = hearAll();
      const ended = endShelvings();
      keep(unitsToKeep(units.values()));
      return heard || ended;
    },
    say: (said) => keeping.say(said),
    reminders: () => lapsed(services, nowMs()).map(lapseWords),
    problem: () => keeping.problem(),
    close: () => {
      keep(
        [...units.values()].filter(({ reading, changedMs }) => !reading && changedMs !== null),
        true,
      );
    },
  };
}

/** Services that were begun and have ended by themselves, where nothing of the kind was recorded since. */
export function lapsed(records: readonly StoredService[], nowMs: number): StoredService[] {
  return records.filter(
    ({ unit, work, step, atMs, untilMs }) =>
      step === "begin" &&
      work !== "planned stop" &&
      untilMs !== undefined &&
      untilMs <= nowMs &&
      !records.some(
        (later) =>
          later.unit === unit &&
          later.work === work &&
          later.atMs >= atMs &&
          (later.step !== "begin" || later.atMs > atMs),
      ),
  );
}

function lapseWords({ unit, work, by, atMs, untilMs = atMs }: StoredService): string {
  return `${unit}: the ${work} that ${visible(by)} began at ${iso(atMs)} ended by itself at ${iso(untilMs)}; record it as done (service done), or begin it anew`;
}
