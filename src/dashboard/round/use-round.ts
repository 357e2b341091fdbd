import type { Key } from "ink";
import { useReducer, useRef } from "react";
import { type Line, line } from "../line.ts";

/** How the fleet's units follow each other. */
export const orders = ["worst", "site", "name"] as const;
export type Order = (typeof orders)[number];

/** Which units are shown, and in which order. */
export interface Round {
  readonly order: Order;
  /** Words that what is shown must hold; empty for all. */
  readonly filter: string;
  /** The row to show while the filter is typed, else null. */
  readonly row: Line | null;
  nextOrder(): void;
  open(): void;
  /** Shows all again. */
  clear(): void;
  /** Takes a key; false where no filter is typed, or the key is not meant for it. */
  take(character: string, key: Key): boolean;
  /** Takes what was pasted; false where no filter is typed. */
  paste(text: string): boolean;
}

const longest = 60;
const unseen = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu;

export function useRound(): Round {
  // Several keys may come before the screen is drawn anew.
  const state = useRef<{ order: Order; filter: string; typing: boolean }>({
    order: "worst",
    filter: "",
    typing: false,
  });
  const [, redraw] = useReducer((count: number) => count + 1, 0);
  const set = (to: Partial<typeof state.current>): true => {
    state.current = { ...state.current, ...to };
    redraw();
    return true;
  };
  const add = (more: string): true =>
    set({ filter: (state.current.filter + more.replace(unseen, " ")).replace(/^\s+/, "").slice(0, longest) });
  const { order, filter, typing } = state.current;
  return {
    order,
    filter,
    row: typing ? filterRow(filter) : null,
    nextOrder() {
      const next = orders[(orders.indexOf(state.current.order) + 1) % orders.length];
      set({ order: next ?? "worst" });
    },
    open: () => void set({ typing: true }),
    clear: () => void set({ filter: "", typing: false }),
    take(character, key) {
      if (!state.current.typing || (key.ctrl && character !== "")) return false;
      if (key.escape) return set({ filter: "", typing: false });
      if (key.backspace || key.delete)
        return set({ filter: [...state.current.filter].slice(0, -1).join("") });
      if (key.return || character === "\r" || character === "\n") return set({ typing: false });
      if (key.tab || key.meta) return true;
      // Arrows choose among what is left while one types.
      return character !== "" && add(character);
    },
    paste: (text) => state.current.typing && add(text),
  };
}

function filterRow(text: string): Line {
  return line(` only ${text}_   words of id, site, state, alarm · Enter keeps · Esc shows all`);
}
