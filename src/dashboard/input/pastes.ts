import { second } from "../../terms/time.ts";

const esc = "\u001b";
/** What a terminal sends around what is pasted (xterm's bracketed paste). */
const start = "\u001b[200~";
const end = "\u001b[201~";
/** Esc in a form that nothing which follows can change (kitty's keyboard protocol). */
const escapeKey = "\u001b[27u";
/** A sequence that is not over: Esc, or what CSI and SS3 begin with. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences are what is looked for
const unfinished = /\u001b+(?:\[\[?[0-9:;<=>?]*[ -#%-/]*|O[0-9;]*)?$/;

/** The rest of a key's sequence comes with it (house choice). */
const keyWithinMs = 20;
/** On a slow line the rest of a marker, or of a paste, comes within this (house choice). */
export const pasteWithinMs = second;

/** How far the input of a terminal is taken apart. */
export interface Pastes {
  /** What may be the beginning of a sequence. */
  held: string;
  /** What was pasted so far; null: no paste is going on. */
  pasted: string | null;
  /** A paste was taken as ended, and no key was pressed since: its rest may still come. */
  doubtful: boolean;
}

export function startPastes(): Pastes {
  return { held: "", pasted: null, doubtful: false };
}

/**
 * Takes a piece of input, and gives back what is whole: keys as they came, and what was pasted between one start and one
 * end each, wherever the pieces were cut. What was pasted is never outside of these, whatever stood before it.
 */
export function takeInput(pastes: Pastes, piece: string): string {
  let taken = "";
  let left = pastes.held + piece;
  pastes.held = "";
  if (pastes.pasted === null && pastes.doubtful) {
    if (isOneKey(left)) pastes.doubtful = false;
    else pastes.pasted = "";
  }
  while (left !== "") {
    if (pastes.pasted !== null) {
      const all = pastes.pasted + left;
      const at = all.indexOf(end, Math.max(0, pastes.pasted.length - end.length));
      if (at < 0) {
        pastes.pasted = all;
        return taken;
      }
      taken += asPaste(all.slice(0, at));
      left = all.slice(at + end.length);
      pastes.pasted = null;
      pastes.doubtful = false;
      continue;
    }
    const startAt = left.indexOf(start);
    const endAt = left.indexOf(end);
    if (endAt >= 0 && (startAt < 0 || endAt < startAt)) {
      // The start was lost on the way.
      taken += asPaste(left.slice(0, endAt));
      left = left.slice(endAt + end.length);
      continue;
    }
    const keys = startAt < 0 ? left : left.slice(0, startAt);
    const tail = unfinished.exec(keys)?.[0] ?? "";
    taken += keys.slice(0, keys.length - tail.length);
    if (startAt < 0) {
      pastes.held = tail;
      return taken;
    }
    taken += givenUp(tail);
    pastes.pasted = "";
    left = left.slice(startAt + start.length);
  }
  return taken;
}

/** So long after the last piece what is not over is taken as over, ms; null: all of it is. */
export function patienceMs({ held, pasted }: Pastes): number | null {
  if (pasted !== null) return pasteWithinMs;
  if (held === "") return null;
  return isEscapes(held) ? keyWithinMs : pasteWithinMs;
}

/** What is given back where nothing came for that long. */
export function giveUp(pastes: Pastes): string {
  const { held, pasted } = pastes;
  pastes.held = "";
  pastes.pasted = null;
  if (pasted === null) return givenUp(held);
  pastes.doubtful = true;
  return asPaste(pasted);
}

/** Esc is a key by itself; other pieces of a sequence are none. */
function givenUp(tail: string): string {
  return isEscapes(tail) ? escapeKey.repeat(tail.length) : "";
}

function isEscapes(text: string): boolean {
  return [...text].every((character) => character === esc);
}

function isOneKey(text: string): boolean {
  return text.startsWith(esc) || [...text].length === 1;
}

function asPaste(text: string): string {
  return text === "" ? "" : start + text + end;
}
