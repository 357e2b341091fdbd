import { randomUUID } from "node:crypto";
import { type Heard, hearing } from "../assess/heard.ts";
import { renewedIn } from "../collector/read-history.ts";
import { readOnce } from "../collector/read-once.ts";
import type { UnitRead } from "../collector/share.ts";
import { withLapses } from "../fleet/services.ts";
import type { Fleet } from "../fleet/unit.ts";
import { type Episode, type EpisodeEvent, startEpisodes, takeEvent } from "../report/episodes.ts";
import { handoverOf } from "../report/handover.ts";
import type { OnRecord } from "../report/handover-input.ts";
import { handoverMarkdown, handoverText, quietLine } from "../report/handover-text.ts";
import { localTimes } from "../report/local.ts";
import { readDatabase } from "../store/database.ts";
import { eventsIn } from "../store/events.ts";
import { addHandover, type HandedOver, lastHandover } from "../store/handovers.ts";
import { attemptOn } from "../store/outcome.ts";
import { servicesAfter } from "../store/services.ts";
import { wordsAfter } from "../store/words.ts";
import { visible } from "../terms/text.ts";
import { hour, iso } from "../terms/time.ts";
import { besideLogger } from "./beside-logger.ts";
import { instant } from "./check.ts";
import { CannotWork, print } from "./context.ts";
import { viewOf } from "./fleet-status.ts";
import { eventOf } from "./gather-report.ts";
import { must, onKeptState, speaker } from "./kept-state.ts";
import { loadFleet } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { readKept } from "./read-kept.ts";
import { stateFolder } from "./state-folder.ts";
import { unreadable } from "./unreadable.ts";

export interface HandoverOptions {
  readonly since?: string;
  readonly markdown?: boolean;
  readonly look?: boolean;
  readonly by?: string;
  readonly state?: string;
}

/** Where nobody has handed over yet: a day (house choice). */
const usualMs = 24 * hour;

/**
 * `handover`: what changed since the last one, or a time, and how things stand. Keeps that it was handed over, unless it
 * only looks back.
 */
export async function handover(fleetPath: string | undefined, options: HandoverOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const nowMs = Date.now();
  const by = speaker(options.by);
  const folder = stateFolder(fleet, path, options.state);
  const past = readPast(folder, nowMs);
  const wantedMs =
    options.since === undefined ? undefined : instant(options.since, "--since", fleet.timezone, nowMs);
  if (wantedMs !== undefined && wantedMs >= nowMs)
    throw new CannotWork("--since lies ahead; write a time that has been");
  const sinceMs = wantedMs ?? past?.last?.atMs ?? nowMs - usualMs;
  const kept = readKept(fleet, folder, nowMs, true);
  const read = await withProgress((onProgress) =>
    readOnce(fleet, {
      toMs: nowMs,
      clockMs: nowMs,
      services: [...fleet.services, ...kept.services],
      kept: kept.units,
      onProgress,
    }),
  );
  const view = viewOf(fleet, read, nowMs, folder);
  const nothing = unreadable(view, fleet);
  if (nothing.length > 0) throw new CannotWork(...nothing);
  const episodes = episodesOf(past?.events ?? [], read.units);
  const told = handoverOf({
    view,
    sinceMs,
    seen: wantedMs === undefined ? (past?.last?.seen ?? null) : null,
    episodes,
    heard: past?.heard ?? [],
    services: onRecord(fleet, past?.services ?? []),
  });
  const { moment } = localTimes(fleet.timezone);
  const start =
    wantedMs === undefined && past?.last
      ? `${moment(sinceMs)}, when ${visible(past.last.by)} handed over`
      : wantedMs === undefined
        ? `${moment(sinceMs)}; nobody has handed over before`
        : moment(sinceMs);
  const head = {
    title: `${visible(fleet.name)}: handover, ${moment(nowMs)} ${fleet.timezone}`,
    lines: [
      told.isQuiet ? quietLine(start) : `Since ${start}.`,
      ...(past === null
        ? ["No state is kept: what people said and did is not known, nor are alarms of logs that are gone."]
        : []),
      ...view.notices.map(visible),
    ],
  };
  for (const line of (options.markdown ? handoverMarkdown : handoverText)(head, told)) print(line);
  if (wantedMs === undefined && !options.look) {
    const seen = newestOf(episodes);
    await keep(fleetPath, options, past !== null, { atMs: nowMs, by, seen }, sinceMs);
  }
  return 0;
}

interface Past {
  readonly last: Omit<HandedOver, "id"> | null;
  readonly events: readonly EpisodeEvent[];
  readonly heard: readonly Heard[];
  readonly services: readonly OnRecord[];
}

/** What a state folder holds of what was; null where nothing is kept. */
function readPast(folder: string, nowMs: number): Past | null {
  const db = must(readDatabase(folder));
  if (db === null) return null;
  try {
    return must(
      attemptOn(db, () => ({
        last: must(lastHandover(db)),
        events: [...eventsIn(db, { untilMs: nowMs })].map(({ line, timeMs }) => eventOf(line, timeMs)),
        heard: hearing(must(wordsAfter(db, 0)), nowMs, renewedIn(db)),
        services: must(servicesAfter(db, 0)).map((one) => besideLogger(one, db)),
      })),
    );
  } finally {
    db.close();
  }
}

/** Place of each unit's newest event. */
function newestOf(events: readonly Pick<EpisodeEvent, "unit" | "seq">[]): Map<string, number> {
  const newest = new Map<string, number>();
  for (const { unit, seq } of events) newest.set(unit, Math.max(seq, newest.get(unit) ?? 0));
  return newest;
}

/** Episodes by what is kept, then by what the logs have told since. */
function episodesOf(
  kept: readonly EpisodeEvent[],
  read: readonly Pick<UnitRead, "id" | "findings" | "toldMs">[],
): readonly Episode[] {
  const newest = newestOf(kept);
  const fresh = read.flatMap(({ id: unit, findings, toldMs = Number.NEGATIVE_INFINITY }) =>
    findings
      .filter(({ timeMs }) => timeMs > toldMs)
      .map((finding, n) => ({ ...finding, unit, seq: (newest.get(unit) ?? 0) + n + 1 })),
  );
  const episodes = startEpisodes();
  for (const event of [...kept, ...fresh.toSorted((a, b) => a.timeMs - b.timeMs)]) takeEvent(episodes, event);
  return episodes.all;
}

/** The fleet file's services and those that people recorded, with the ends of what ended by itself. */
function onRecord(fleet: Fleet, stored: readonly OnRecord[]): readonly OnRecord[] {
  const ids = new Set(fleet.units.map(({ id }) => id));
  return fleet.units.flatMap(({ id }) =>
    withLapses([...fleet.services, ...stored].filter(({ unit }) => unit === id && ids.has(unit))),
  );
}

async function keep(
  fleetPath: string | undefined,
  options: HandoverOptions,
  isKept: boolean,
  said: Omit<HandedOver, "id">,
  sinceMs: number,
): Promise<void> {
  const again = `the same again: --since ${iso(sinceMs)}`;
  if (!isKept) {
    process.stderr.write(
      "no state is kept there yet, so this handover is not; start watch or collect first\n",
    );
    return;
  }
  await onKeptState(fleetPath, options, ({ db }) => must(addHandover(db, { ...said, id: randomUUID() })));
  process.stderr.write(`kept as handed over by ${said.by}; the next one begins here; ${again}\n`);
}
