import { Readable } from "node:stream";
import { giveUp, patienceMs, startPastes, takeInput } from "./pastes.ts";

/** What a keyboard is read from: standard input, where it is a terminal. */
type Terminal = Pick<NodeJS.ReadStream, "on" | "off" | "pause" | "resume" | "setRawMode" | "ref" | "unref">;

/**
 * A terminal's input with its pastes made whole, to be read by Ink: its own parser takes what is pasted for keys where an
 * Esc came just before, and waits for the end of a paste for ever. Nothing is read while raw mode is off.
 */
export function keyboardOf(terminal: Terminal) {
  const pastes = startPastes();
  let waiting: NodeJS.Timeout | undefined;
  const decoder = new TextDecoder();
  const keyboard = new Readable({ encoding: "utf8", read: () => {} });
  const give = (text: string): void => {
    if (text !== "") keyboard.push(text);
  };
  const take = (piece: Buffer | string): void => {
    clearTimeout(waiting);
    give(takeInput(pastes, typeof piece === "string" ? piece : decoder.decode(piece, { stream: true })));
    const ms = patienceMs(pastes);
    if (ms !== null) waiting = setTimeout(() => give(giveUp(pastes)), ms);
  };
  let isRead = false;
  return Object.assign(keyboard, {
    isTTY: true,
    setRawMode: (on: boolean): void => {
      terminal.setRawMode(on);
      if (on && !isRead) {
        terminal.on("data", take);
        terminal.resume();
      }
      if (!on && isRead) {
        terminal.off("data", take);
        terminal.pause();
        clearTimeout(waiting);
        Object.assign(pastes, startPastes());
      }
      isRead = on;
    },
    ref: () => terminal.ref(),
    unref: () => terminal.unref(),
  });
}
