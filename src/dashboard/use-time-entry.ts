import type { Key } from "ink";
import { useReducer, useRef } from "react";
import { type Line, line } from "./line.ts";
import { typedTime, typedTimeForms } from "./typed-time.ts";

/** A time that a person types in the last row. */
export interface TimeEntry {
  /** The row to show while one is typed, else null. */
  readonly row: Line | null;
  open(): void;
  /** Takes a key; false where none is typed, or the key is not meant for it. */
  take(character: string, key: Key): boolean;
  /** Takes what was pasted, as far as it may stand in a time; false where none is typed. */
  paste(text: string): boolean;
}

const longest = 40;
const notInTime = /[^\d:.TZtz +-]/g;

/** `onTime` hears of a time that was entered; `nowMs` gives the day of a time without one. */
export function useTimeEntry(nowMs: number, timezone: string, onTime: (timeMs: number) => void): TimeEntry {
  // Several keys may come before the screen is drawn anew.
  const typed = useRef<{ text: string; wrong: boolean } | null>(null);
  const [, redraw] = useReducer((count: number) => count + 1, 0);
  const set = (to: typeof typed.current): true => {
    typed.current = to;
    redraw();
    return true;
  };
  const add = (more: string): true =>
    set({
      text: ((typed.current?.text ?? "") + more.replace(notInTime, "")).slice(0, longest),
      wrong: false,
    });
  return {
    row: typed.current === null ? null : entryRow(typed.current.text, typed.current.wrong),
    open: () => void set({ text: "", wrong: false }),
    take(character, key) {
      const entry = typed.current;
      if (entry === null || (key.ctrl && character !== "")) return false;
      if (key.escape) return set(null);
      if (key.backspace || key.delete) return set({ text: entry.text.slice(0, -1), wrong: false });
      if (key.return || character === "\r" || character === "\n") {
        const timeMs = typedTime(entry.text, nowMs, timezone);
        if (timeMs === undefined && entry.text.trim() !== "") return set({ ...entry, wrong: true });
        if (timeMs !== undefined) onTime(timeMs);
        return set(null);
      }
      return add(character);
    },
    paste: (text) => typed.current !== null && add(text),
  };
}

function entryRow(text: string, wrong: boolean): Line {
  if (wrong) return line(` '${text}' is not a time; write ${typedTimeForms} · Esc leaves`, "strong");
  return line(` go to ${text}_   ${typedTimeForms} · Enter goes · Esc leaves`);
}
