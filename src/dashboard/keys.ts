import type { Key } from "ink";

/** What a person asks of a replay. */
export type ReplayCommand =
  | "play or pause"
  | "step"
  | "faster"
  | "slower"
  | "next alarm"
  | "last alarm"
  | "go to"
  | "beginning";

/** What a person asks for with a key. */
export type Command =
  | "up"
  | "down"
  | "left"
  | "right"
  | "page up"
  | "page down"
  | "home"
  | "end"
  | "open"
  | "back"
  | "next part"
  | "less time"
  | "more time"
  | "earlier"
  | "later"
  | "newest"
  | "mark"
  | "explain"
  | "acknowledge"
  | "performance"
  | "round"
  | "standing"
  | "history"
  | "service"
  | "data"
  | "order"
  | "filter"
  | "say"
  | "undo"
  | ReplayCommand
  | "redraw"
  | "set aside"
  | "quit"
  | "interrupt";

const byCharacter: Readonly<Record<string, Command>> = {
  "+": "less time",
  "=": "less time",
  "-": "more time",
  _: "more time",
  ",": "earlier",
  ".": "later",
  n: "newest",
  m: "mark",
  "?": "explain",
  "1": "round",
  "2": "standing",
  "3": "history",
  "4": "service",
  "5": "data",
  o: "order",
  "/": "filter",
  y: "acknowledge",
  w: "say",
  u: "undo",
  q: "quit",
  Q: "quit",
};
/** Of what is kept, and a replay keeps nothing. */
const notInReplay: Readonly<Record<string, Command>> = { p: "performance" };
/** In a replay; a capital letter goes the other way. */
const inReplay: Readonly<Record<string, Command>> = {
  " ": "play or pause",
  p: "play or pause",
  s: "step",
  f: "faster",
  F: "slower",
  a: "next alarm",
  A: "last alarm",
  t: "go to",
  b: "beginning",
};
const byControl: Readonly<Record<string, Command>> = { c: "interrupt", z: "set aside", l: "redraw" };

/** The commands of one piece of input: several where keys came faster than they were read. */
export function commandsOf(input: string, key: Key, replaying = false): readonly Command[] {
  if (key.upArrow) return ["up"];
  if (key.downArrow) return ["down"];
  if (key.leftArrow) return ["left"];
  if (key.rightArrow) return ["right"];
  if (key.pageUp) return ["page up"];
  if (key.pageDown) return ["page down"];
  if (key.home) return ["home"];
  if (key.end) return ["end"];
  if (key.return) return ["open"];
  if (key.escape || key.backspace || key.delete) return ["back"];
  if (key.tab) return ["next part"];
  if (key.ctrl) return known(byControl[input]);
  if (key.meta) return [];
  return [...input].flatMap((character) =>
    character === "\r" || character === "\n"
      ? (["open"] as const)
      : known(byCharacter[character] ?? (replaying ? inReplay : notInReplay)[character]),
  );
}

function known(command: Command | undefined): readonly Command[] {
  return command === undefined ? [] : [command];
}
