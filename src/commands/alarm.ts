import { randomUUID } from "node:crypto";
import { setTimeout as sleep } from "node:timers/promises";
import type { AlarmResponse, UnitResponses } from "../assess/response.ts";
import type { KeptPeople } from "../collector/restore.ts";
import { moment } from "../dashboard/local-time.ts";
import { nearest, oneOfThese } from "../fleet/nearest.ts";
import { loadUnit } from "../store/checkpoints.ts";
import { addWord, wordsAfter } from "../store/words.ts";
import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import { age } from "../terms/time.ts";
import { longestShelvingMs, type Word, type WordAction, wordActions } from "../terms/words.ts";
import { CannotWork, print } from "./context.ts";
import { type KeptState, lengthOf, must, onKeptState, speaker } from "./kept-state.ts";
import { unitIn } from "./load-fleet.ts";

export interface AlarmOptions {
  readonly by?: string;
  readonly for?: string;
  readonly note?: string;
  readonly state?: string;
}

/** A collector takes a word in within a fifth of a second. */
const takenInWithinMs = 2000;

/** `alarm`: a person's word on a unit's alarms. */
export async function alarm(
  action: string,
  fleetPath: string,
  unitId: string,
  alarmName: string,
  options: AlarmOptions,
): Promise<number> {
  if (!isOneOf(wordActions, action)) {
    throw new CannotWork(`'${visible(action)}' is no action${oneOfThese(action, wordActions)}`);
  }
  if (alarmName !== "all" && !isOneOf(alarmNames, alarmName)) {
    throw new CannotWork(
      `'${visible(alarmName)}' is no alarm; write ${nearest(alarmName, [...alarmNames, "all"])}`,
    );
  }
  return onKeptState(fleetPath, options, async (kept) => {
    unitIn(kept.fleet, unitId);
    const said = words(action, unitId, alarmName as AlarmName | "all", responsesOf(kept, unitId), options);
    for (const word of said) must(addWord(kept.db, word));
    await tell(kept, said);
    return 0;
  });
}

function isOneOf<T extends string>(list: readonly T[], text: string): text is T {
  return (list as readonly string[]).includes(text);
}

function responsesOf({ db }: KeptState, unit: string): UnitResponses {
  const saved = must(loadUnit(db, unit));
  return saved === null ? {} : (saved.people as KeptPeople).responses;
}

function words(
  action: WordAction,
  unit: string,
  alarmName: AlarmName | "all",
  responses: UnitResponses,
  options: AlarmOptions,
): Word[] {
  const atMs = Date.now();
  const base = { atMs, unit, by: speaker(options.by), ...(options.note && { note: visible(options.note) }) };
  const word = (rest: Pick<Word, "alarm" | "untilMs" | "raisedMs">): Word => ({
    id: randomUUID(),
    action,
    ...base,
    ...rest,
  });
  if (action === "acknowledge") return acknowledged(unit, alarmName, responses).map(word);
  if (action === "shelve") {
    if (options.for === undefined) {
      throw new CannotWork("an alarm is shelved with an end, never without; write --for 2h");
    }
    const lastsMs = lengthOf(options.for);
    if (lastsMs > longestShelvingMs) {
      throw new CannotWork("--for: an alarm is shelved for at most 7 d; for longer, take it out of service");
    }
    return [word({ alarm: alarmName, untilMs: atMs + lastsMs })];
  }
  if (options.for !== undefined) throw new CannotWork(`--for goes with shelve; ${action} has no end`);
  if (action === "note" && !options.note?.trim()) {
    throw new CannotWork('a note says something; write --note "…"');
  }
  return [word({ alarm: alarmName })];
}

/** Each raising that is acknowledged, as it stands now: a newer one is not meant. */
function acknowledged(unit: string, alarmName: AlarmName | "all", responses: UnitResponses) {
  const standing = Object.entries(responses).filter(([, { raisedMs }]) => raisedMs !== null) as [
    AlarmName,
    AlarmResponse,
  ][];
  const meant = standing.filter(([name]) => alarmName === "all" || name === alarmName);
  if (meant.length === 0) {
    const names = standing.map(([name]) => name).join(", ");
    throw new CannotWork(
      `${unit}: ${alarmName === "all" ? "no alarm" : `no ${alarmName}`} stands there to be acknowledged; standing: ${names || "none"}`,
    );
  }
  return meant.map(([name, { raisedMs }]) => ({ alarm: name, ...(raisedMs !== null && { raisedMs }) }));
}

const done: Readonly<Record<WordAction, string>> = {
  acknowledge: "acknowledged",
  shelve: "shelved",
  unshelve: "back from the shelf",
  "out-of-service": "out of service",
  "return-to-service": "back in service",
  note: "noted",
};

/** Says what came of it: where a colleague was first, who. */
async function tell(kept: KeptState, said: readonly Word[]): Promise<void> {
  const ids = new Set(said.map(({ id }) => id));
  const row = Math.max(
    ...must(wordsAfter(kept.db, 0))
      .filter(({ id }) => ids.has(id))
      .map((word) => word.row),
  );
  const unit = said[0]?.unit ?? "";
  const collects = kept.collects();
  const endMs = Date.now() + takenInWithinMs;
  const takenIn = (): boolean => (must(loadUnit(kept.db, unit))?.wordRow ?? 0) >= row;
  while (collects && !takenIn() && Date.now() < endMs) await sleep(50);
  const responses = responsesOf(kept, unit);
  const at = (timeMs: number): string => moment(timeMs, Date.now(), kept.fleet.timezone);
  for (const { alarm: name, action, by, atMs, untilMs } of said) {
    const first = action === "acknowledge" && name !== "all" ? responses[name]?.acknowledged : null;
    const wasFirst = first && (first.by !== by || first.atMs !== atMs);
    const until = untilMs === undefined ? "" : ` until ${at(untilMs)}, for ${age(untilMs - atMs)}`;
    print(
      wasFirst
        ? `${unit} ${name}: ${visible(first.by)} acknowledged it already, at ${at(first.atMs)}`
        : `${unit} ${name}: ${done[action]} by ${by}${until}`,
    );
  }
  if (!collects) print("no process collects there now: it counts once watch or collect runs");
}
