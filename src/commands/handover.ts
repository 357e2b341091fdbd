import { randomUUID } from "node:crypto";
import { readOnce } from "../collector/read-once.ts";
import type { UnitRead } from "../collector/share.ts";
import { withLapses } from "../fleet/services.ts";
import type { Fleet } from "../fleet/unit.ts";
import { type Episode, type EpisodeEvent, startEpisodes, takeEvent } from "../report/episodes.ts";
import { handoverOf } from "../report/handover.ts";
import type { OnRecord } from "../report/handover-input.ts";
import { handoverMarkdown, handoverText, quietLine } from "../report/handover-text.ts";
import { localTimes } from "../report/local.ts";
import { addHandover, type HandedOver } from "../store/handovers.ts";
import { visible } from "../terms/text.ts";
import { hour, iso } from "../terms/time.ts";
import { instant } from "./check.ts";
import { CannotWork, print } from "./context.ts";
import { viewOf } from "./fleet-status.ts";
import { must, onKeptState, speaker } from "./kept-state.ts";
import { loadFleet } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { readLastHandover, readPast } from "./read-handover.ts";
import { readKept } from "./read-kept.ts";
import { stateFolder } from "./state-folder.ts";
import { unreadable } from "./unreadable.ts";

export interface HandoverOptions {
  readonly since?: string;
  readonly markdown?: boolean;
  readonly given?: boolean;
  readonly by?: string;
  readonly state?: string;
}

/** Where nobody has handed over yet: a shift of twelve hours (house choice). */
const usualMs = 12 * hour;

/** `handover`: what changed since the last one that was given, or a time, and how things stand. Keeps that it is given where told so. */
export async function handover(fleetPath: string | undefined, options: HandoverOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const nowMs = Date.now();
  const by = speaker(options.by);
  const folder = stateFolder(fleet, path, options.state);
  const wantedMs =
    options.since === undefined ? undefined : instant(options.since, "--since", fleet.timezone, nowMs);
  if (wantedMs !== undefined && wantedMs >= nowMs)
    throw new CannotWork("--since lies ahead; write a time that has been");
  const before = readLastHandover(folder);
  const last = wantedMs === undefined ? (before ?? null) : null;
  const sinceMs = wantedMs ?? last?.atMs ?? nowMs - usualMs;
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
  // Of the moment at which the units were read: what is kept meanwhile is told by the logs.
  const newest = new Map([...kept.units].map(([id, { saved }]) => [id, saved?.seq ?? 0]));
  const fresh = freshEvents(newest, read.units);
  const seen = last?.seen ?? null;
  const past = readPast(folder, nowMs, { sinceMs, seen, newest, fresh });
  const told = handoverOf({
    view,
    sinceMs,
    seen,
    episodes: episodesOf(past?.events ?? fresh),
    heard: past?.heard ?? [],
    services: onRecord(fleet, past?.services ?? []),
  });
  const { moment } = localTimes(fleet.timezone);
  const start =
    last !== null
      ? `${moment(sinceMs)}, when ${visible(last.by)} handed over`
      : wantedMs === undefined
        ? `${moment(sinceMs)}; nobody has handed over before`
        : moment(sinceMs);
  const head = {
    title: `${visible(fleet.name)}: handover, ${moment(nowMs)} ${fleet.timezone}`,
    lines: [
      told.isQuiet ? quietLine(start) : `Since ${start}.`,
      ...(past === undefined
        ? ["No state is kept: what people said and did is not known, nor are alarms of logs that are gone."]
        : []),
      ...view.notices.map(visible),
    ],
  };
  for (const line of (options.markdown ? handoverMarkdown : handoverText)(head, told)) print(line);
  if (options.given) {
    const said = { atMs: nowMs, by, seen: newestOf(newest, fresh) };
    await keep(fleetPath, options, before !== undefined, said, sinceMs);
  } else if (wantedMs === undefined) {
    process.stderr.write("a look, not kept; once you have handed over, write it with --given\n");
  }
  return 0;
}

/** What the logs have told since the state was kept, placed after what is kept; by time. */
function freshEvents(
  newest: ReadonlyMap<string, number>,
  read: readonly Pick<UnitRead, "id" | "findings" | "toldMs">[],
): readonly EpisodeEvent[] {
  return read
    .flatMap(({ id: unit, findings, toldMs = Number.NEGATIVE_INFINITY }) =>
      findings
        .filter(({ timeMs }) => timeMs > toldMs)
        .map((finding, n) => ({ ...finding, unit, seq: (newest.get(unit) ?? 0) + n + 1 })),
    )
    .toSorted((a, b) => a.timeMs - b.timeMs);
}

function episodesOf(events: readonly EpisodeEvent[]): readonly Episode[] {
  const episodes = startEpisodes();
  for (const event of events) takeEvent(episodes, event);
  return episodes.all;
}

/** Place of each unit's newest event, by what is kept and what the logs have told since. */
function newestOf(kept: ReadonlyMap<string, number>, fresh: readonly EpisodeEvent[]): Map<string, number> {
  const newest = new Map([...kept].filter(([, seq]) => seq > 0));
  for (const { unit, seq } of fresh) newest.set(unit, Math.max(seq, newest.get(unit) ?? 0));
  return newest;
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
