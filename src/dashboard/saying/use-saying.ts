import type { Key } from "ink";
import { useReducer, useRef, useState } from "react";
import type { FleetView } from "../../collector/fleet-view.ts";
import type { Said } from "../../collector/keeping.ts";
import type { AlarmName } from "../../terms/alarms.ts";
import { minute, second } from "../../terms/time.ts";
import type { Line } from "../line.ts";
import type { FleetSource } from "../source.ts";
import { prepare } from "./actions.ts";
import { acknowledgeSeen } from "./alarm-actions.ts";
import { startBurst } from "./burst.ts";
import { outcome } from "./outcome.ts";
import { askingRows, strongly, typingRows } from "./panel.ts";
import type { Prepared, Problem, Speaking } from "./prepared.ts";
import { completed, typedBack, typedOn } from "./typed-line.ts";
import { canUndo, undoing } from "./undo.ts";

/** Nobody reads what is asked faster (house choice): a key that comes sooner was not pressed for it. */
export const readWithinMs = 300;
/** What was asked so long ago may be read by another person than who meant it (house choice). */
const meantForMs = minute;
/** The last word can be undone for so long, and what came of it stands no longer (house choice). */
const undoWithinMs = minute;
/** What came of a word stays so long whatever is looked at meanwhile, unless another is said (house choice). */
export const toldForMs = 10 * second;

/** What a person says from the screen: typed, confirmed, told of. */
export interface Saying {
  /** Rows that take the place of the screen's last ones; none where nothing is said. */
  rows(width: number, height: number): readonly Line[];
  /** Takes a piece of input, which every one is shown first; false where it is not meant for this. */
  take(input: string, key: Key): boolean;
  /** Takes what was pasted: text for a line that is being typed, and nothing else. */
  paste(text: string): void;
  /** Acknowledges those of the unit's alarms that are in sight. */
  acknowledge(inSight: ReadonlySet<AlarmName>): void;
  open(): void;
  undo(): void;
}

type Stage =
  | { readonly at: "typing"; readonly unit: string; readonly text: string; readonly problem: string | null }
  | { readonly at: "asking"; readonly prepared: Prepared; readonly sinceMs: number };

/** `unit` is the one that is chosen or shown; `seen` is false where the screen has no room to show what is asked. */
export function useSaying(
  source: FleetSource,
  view: FleetView,
  by: string,
  unit: string | null,
  seen: boolean,
): Saying {
  // Several keys may come before the screen is drawn anew.
  const stage = useRef<Stage | null>(null);
  const last = useRef<{ said: readonly Said[]; sinceMs: number } | null>(null);
  const times = useRef(0);
  const [burst] = useState(startBurst);
  const [told, setAnswer] = useState<{ text: string; sinceMs: number } | null>(null);
  const setTold = (text: string | null): void =>
    setAnswer(text === null ? null : { text, sinceMs: performance.now() });
  const [, redraw] = useReducer((count: number) => count + 1, 0);
  const set = (to: Stage | null): true => {
    stage.current = to;
    if (to !== null) setTold(null);
    redraw();
    return true;
  };

  const speakingOf = (id: string | null): Speaking | Problem => {
    if (source.say === undefined || view.replay !== undefined)
      return { problem: "a replay keeps nothing: what happened then cannot be answered now" };
    if (view.collector === undefined)
      return { problem: "nothing is kept here, so nothing is said; ? tells why" };
    const found = view.units.find((each) => each.id === id);
    if (found === undefined)
      return { problem: id === null ? "no unit is chosen" : `${id} is no longer watched here` };
    // Alarms as they are seen; what people did, as it is known by now.
    const now = source.current().units.find((each) => each.id === id) ?? found;
    return { view, unit: { ...found, setAside: now.setAside, begun: now.begun ?? [] }, by };
  };

  const say = async (prepared: Prepared, undoes = false): Promise<void> => {
    setTold(null);
    const { clockMs, demonstration } = source.current();
    const said = prepared.said(clockMs);
    // Until it is told what came of it, nothing is there to be undone: what was said before is no longer the last.
    const before = last.current;
    last.current = null;
    const time = ++times.current;
    // An answer may come after that to a later word, which is what the person looks at.
    const isNewest = (): boolean => time === times.current;
    const problem = await (source.say?.(said) ?? Promise.resolve("a replay keeps nothing")).catch(
      (error: unknown) => `${(error as Error).message}; say it again in a while`,
    );
    if (problem !== null) {
      if (undoes && isNewest()) last.current = before;
      setTold(`${said.length > 1 ? "not kept, or not all of it" : "not kept"}: ${problem}`);
      return;
    }
    const words = await outcome(prepared, clockMs, source);
    if (!isNewest()) return;
    if (!undoes) last.current = { said, sinceMs: performance.now() };
    const undo = !undoes && canUndo(said) ? " · u undoes it" : "";
    const besides = prepared.besides === undefined ? "" : `; ${prepared.besides}`;
    setTold(
      `${words}${besides}${undo}${demonstration === undefined ? "" : " · kept until the demonstration ends"}`,
    );
  };

  /** Asks, or says at once. */
  const meant = (prepared: Prepared | Problem): void => {
    if ("problem" in prepared) {
      set(null);
      setTold(prepared.problem);
    } else if (prepared.asks !== null) {
      set({ at: "asking", prepared, sinceMs: performance.now() });
    } else {
      set(null);
      void say(prepared);
    }
  };

  const enter = (): void => {
    const now = stage.current;
    if (now?.at !== "typing") return;
    const speaking = speakingOf(now.unit);
    const prepared = "problem" in speaking ? speaking : prepare(now.text, speaking);
    if ("problem" in prepared) set({ ...now, problem: prepared.problem });
    else meant(prepared);
  };

  const answer = (asked: Extract<Stage, { at: "asking" }>, input: string, key: Key): true => {
    const passedMs = performance.now() - asked.sinceMs;
    if (passedMs < readWithinMs && !key.escape) return true;
    if (input !== "c" || key.ctrl || key.meta) return set(null);
    burst.ifAlone(() => {
      if (stage.current !== asked) return;
      set(null);
      if (passedMs > meantForMs) setTold("asked more than a minute ago: say it again");
      else void say(asked.prepared);
    });
    return true;
  };

  const type = (now: Extract<Stage, { at: "typing" }>, input: string, key: Key): true => {
    const text = (to: string): true => set({ ...now, text: to, problem: null });
    if (key.escape) return set(null);
    if (key.backspace || key.delete) return text(typedBack(now.text));
    if (key.return || input === "\n") {
      burst.ifAlone(enter);
      return true;
    }
    if (key.tab) {
      const speaking = speakingOf(now.unit);
      return "problem" in speaking ? true : text(completed(now.text, speaking));
    }
    return key.meta || input === "" ? true : text(typedOn(now.text, input));
  };

  const onUnit = (id: string | null, prepared: (speaking: Speaking) => Prepared | Problem): void => {
    const speaking = speakingOf(id);
    meant("problem" in speaking ? speaking : prepared(speaking));
  };

  return {
    take: (input, key) => {
      burst.hear(input);
      const isRedraw = key.ctrl && input === "l";
      if (told !== null && !isRedraw && performance.now() - told.sinceMs >= toldForMs) setTold(null);
      const now = stage.current;
      if (now === null) return false;
      if (!seen) {
        set(null);
        return false;
      }
      if (key.ctrl && input !== "") return false;
      return now.at === "typing" ? type(now, input, key) : answer(now, input, key);
    },
    paste: (text) => {
      // However short it is, nobody pressed it as a key.
      burst.hear(`${text}  `);
      const now = stage.current;
      if (now?.at === "typing") set({ ...now, text: typedOn(now.text, text), problem: null });
      else if (now !== null) set(null);
    },
    acknowledge: (inSight) =>
      burst.ifAlone(() => onUnit(unit, (speaking) => acknowledgeSeen(speaking, inSight))),
    open: () =>
      burst.ifAlone(() => {
        const speaking = speakingOf(unit);
        if ("problem" in speaking) meant(speaking);
        else set({ at: "typing", unit: speaking.unit.id, text: "", problem: null });
      }),
    undo: () =>
      burst.ifAlone(() => {
        const mine = last.current;
        if (mine === null) setTold("nothing was said here that could be undone");
        else if (performance.now() - mine.sinceMs > undoWithinMs)
          setTold("too long ago to be undone; write unshelve, return-to-service or end");
        else {
          const prepared = undoing(mine.said, source.current(), by);
          if ("problem" in prepared) setTold(prepared.problem);
          else void say(prepared, true);
        }
      }),
    rows: (width, height) => {
      const now = stage.current;
      if (now?.at === "asking") return askingRows(now.prepared, width);
      if (now?.at === "typing") {
        const speaking = speakingOf(now.unit);
        if (!("problem" in speaking)) return typingRows(now.text, now.problem, speaking, width, height);
        return strongly(speaking.problem, width);
      }
      // Each view draws the screen anew, and one comes each second.
      const isOver = told === null || performance.now() - told.sinceMs > undoWithinMs;
      return isOver ? [] : strongly(told.text, width);
    },
  };
}
