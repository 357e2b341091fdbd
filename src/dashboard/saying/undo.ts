import type { FleetView, UnitView } from "../../collector/fleet-view.ts";
import type { Said } from "../../collector/keeping.ts";
import { takeBack } from "../../fleet/services.ts";
import { counted } from "../../terms/text.ts";
import type { Word, WordAction } from "../../terms/words.ts";
import { nameOf } from "./alarm-actions.ts";
import type { Prepared, Problem } from "./prepared.ts";

/** Why a word stays said, and what to write instead; null: it can be undone. */
const stays: Readonly<Record<WordAction, string | null>> = {
  acknowledge: "an acknowledgement is not undone: others may have relied on it; write a note",
  note: "a note stays on record; write another",
  unshelve: "to set it aside again write shelve",
  "return-to-service": "to set it aside again write out-of-service",
  shelve: null,
  "out-of-service": null,
};

/** Whether what was said can be undone. */
export function canUndo([first]: readonly Said[]): boolean {
  return first !== undefined && whyNot(first) === null;
}

function whyNot(said: Said): string | null {
  if (said.kind === "word") return stays[said.word.action];
  const { step, work } = said.record;
  if (step === "begin") return null;
  if (work === "baseline")
    return "what was said of a baseline is not undone; write baseline with the other answer";
  return step === "end"
    ? `to go on with it write begin ${work}`
    : "a service on record is not undone; write a note";
}

/** Takes back what this person said last, as far as it still stands as theirs in `view`. */
export function undoing(said: readonly Said[], view: FleetView, by: string): Prepared | Problem {
  const [first] = said;
  if (first === undefined) return { problem: "nothing was said that could be undone" };
  const why = whyNot(first);
  if (why !== null) return { problem: why };
  return first.kind === "word" ? bringingBack(first.word, view, by) : takingBack(first.record, view, by);
}

function bringingBack(word: Word, view: FleetView, by: string): Prepared | Problem {
  const unit = view.units.find(({ id }) => id === word.unit);
  const alarms = unit === undefined ? [] : stillMine(unit, word);
  if (unit === undefined || alarms.length === 0)
    return { problem: `${word.unit}: nothing of it stands any more` };
  const action = word.action === "shelve" ? "unshelve" : "return-to-service";
  const back = action === "unshelve" ? "back from the shelf" : "back in service";
  const what = `${word.unit}: ${namesOf(alarms)} ${back}`;
  return {
    what,
    asks: null,
    said: (atMs) =>
      alarms.map((alarm) => ({
        kind: "word",
        word: { id: crypto.randomUUID(), atMs, unit: word.unit, alarm, action, by },
      })),
    done: () => `${what}, undone by ${by}`,
  };
}

function namesOf(alarms: readonly Word["alarm"][]): string {
  const [first = "all"] = alarms;
  return alarms.length === 1 ? nameOf(first) : counted(alarms.length, "alarm");
}

/** The alarms that a word set aside and nobody has spoken of since; `all` where that is all that is set aside. */
function stillMine(unit: UnitView, { action, alarm, atMs, by }: Word): readonly Word["alarm"][] {
  const state = action === "shelve" ? "shelved" : "out-of-service";
  const mine = unit.setAside.filter(
    (one) =>
      one.state === state && one.by === by && one.atMs === atMs && (alarm === "all" || one.alarm === alarm),
  );
  if (alarm === "all" && mine.length > 0 && mine.length === unit.setAside.length) return ["all"];
  return mine.map((one) => one.alarm);
}

type Begun = Extract<Said, { kind: "service" }>["record"];

function takingBack(record: Begun, view: FleetView, by: string): Prepared | Problem {
  const { unit: id, work, atMs: begunMs } = record;
  const begun = view.units.find((unit) => unit.id === id)?.begun ?? [];
  const stands = begunMs > view.clockMs || begun.some((one) => one.work === work && one.atMs === begunMs);
  if (!stands) return { problem: `${id}: nothing of it stands any more` };
  const what = `${id}: ${work === "planned stop" ? "the stop that was planned" : work} is taken back`;
  return {
    what,
    asks: null,
    said: (atMs) => {
      const { note, ...again } = takeBack(record, atMs);
      return [{ kind: "service", record: { ...again, id: crypto.randomUUID(), by, saidMs: atMs } }];
    },
    done: () => `${what} by ${by}; it does not count as done`,
  };
}
