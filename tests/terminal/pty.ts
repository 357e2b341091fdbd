import { fileURLToPath } from "node:url";
import { type IPty, spawn } from "@lydell/node-pty";
import headless, { type IBufferCell } from "@xterm/headless";

/** The project's own Node, which both the program and its tests run on. */
export const node = process.execPath;
const projectFolder = fileURLToPath(new URL("../..", import.meta.url));

/** Keys by the bytes a terminal sends for them (xterm's control sequences). */
const keyBytes = {
  up: "\u001b[A",
  down: "\u001b[B",
  right: "\u001b[C",
  left: "\u001b[D",
  "page up": "\u001b[5~",
  "page down": "\u001b[6~",
  home: "\u001b[H",
  end: "\u001b[F",
  enter: "\r",
  escape: "\u001b",
  tab: "\t",
  "ctrl-c": "\u0003",
  "ctrl-z": "\u001a",
  "ctrl-l": "\u000c",
} as const;

/** What stands in one column of a row: the second column of a wide character has no text and no width. */
export interface Cell {
  readonly text: string;
  readonly width: number;
  /** Colours by their number among the terminal's 256; undefined where it is the terminal's own. */
  readonly ink: number | undefined;
  readonly paper: number | undefined;
  readonly strong: boolean;
  readonly dim: boolean;
  readonly reverse: boolean;
}

interface ScreenState {
  readonly alternate: boolean;
  readonly cursorShown: boolean;
  readonly bracketedPaste: boolean;
}

export interface TerminalSession {
  readonly pid: number;
  /** The screen's rows, without the spaces at their ends. */
  lines(): readonly string[];
  text(): string;
  /** The screen's rows cell by cell: each character with its colours and its weight. */
  painted(): readonly (readonly string[])[];
  /** The screen cell by cell, row by row. */
  cells(): readonly (readonly Cell[])[];
  /** Whether some cell of the screen has a colour other than the terminal's own. */
  coloured(): boolean;
  state(): ScreenState;
  /** Everything the program has written, escape sequences and all. */
  raw(): string;
  press(...keys: readonly (keyof typeof keyBytes)[]): void;
  type(text: string): void;
  /** Settles once a whole frame shows `wanted`; throws with the screen in the message after `timeoutMs`. */
  shows(wanted: string | RegExp, timeoutMs?: number): Promise<void>;
  /** Settles once `met` is true of the session while no frame is half drawn. */
  until(met: () => boolean, what: string, timeoutMs?: number): Promise<void>;
  resize(columns: number, rows: number): void;
  signal(name: "SIGINT" | "SIGTERM" | "SIGHUP" | "SIGTSTP" | "SIGCONT"): void;
  /** Exit status, once the program has ended; a signal that killed it counts 128 + its number, as in a shell. */
  exit(timeoutMs?: number): Promise<number>;
  /** Ends the program, if it still runs: for `afterEach`. */
  close(): void;
}

export interface TerminalOptions {
  readonly columns?: number;
  readonly rows?: number;
  /** Added to a small fixed environment; undefined takes a variable out. */
  readonly env?: Readonly<Record<string, string | undefined>>;
  readonly cwd?: string;
}

const pollMs = 20;
const patienceMs = 30_000;
const stuckMs = 1000;

/** Starts `program` on a pseudo-terminal of its own, 80 × 24 unless told otherwise. */
export function startInTerminal(
  program: string,
  args: readonly string[],
  { columns = 80, rows = 24, env = {}, cwd = projectFolder }: TerminalOptions = {},
): TerminalSession {
  const base: Record<string, string | undefined> = {
    PATH: process.env.PATH,
    HOME: process.env.HOME,
    TERM: "xterm-256color",
    LANG: "C.UTF-8",
    NODE_COMPILE_CACHE: process.env.NODE_COMPILE_CACHE,
    XDG_STATE_HOME: process.env.XDG_STATE_HOME,
    ...env,
  };
  const given = Object.fromEntries(
    Object.entries(base).filter((entry): entry is [string, string] => entry[1] !== undefined),
  );
  const screen = new headless.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 500 });
  const pty: IPty = spawn(program, [...args], {
    cols: columns,
    rows,
    cwd,
    env: given,
    name: given.TERM ?? "xterm",
  });
  let raw = "";
  let receivedMs = performance.now();
  let ended: number | null = null;
  pty.onData((data) => {
    raw += data;
    receivedMs = performance.now();
    screen.write(data);
  });
  // What the terminal answers to the program's questions.
  screen.onData((answer) => pty.write(answer));
  pty.onExit(({ exitCode, signal }) => {
    ended = signal ? 128 + signal : exitCode;
  });

  /** All that was received is on the screen; what comes later is not. */
  const shown = () => new Promise<void>((resolve) => screen.write("", resolve));
  /** A frame is on its way (synchronized output), and what writes it has not been stopped. */
  const halfDrawn = () =>
    ended === null && screen.modes.synchronizedOutputMode && performance.now() - receivedMs < stuckMs;
  const until = async (met: () => boolean, what: string, timeoutMs = patienceMs): Promise<void> => {
    const deadline = performance.now() + timeoutMs;
    for (;;) {
      await shown();
      if (!halfDrawn() && met()) return;
      if (performance.now() > deadline)
        throw new Error(`waited ${timeoutMs} ms for ${what}; the screen:\n${lines().join("\n")}`);
      await new Promise((resolve) => setTimeout(resolve, pollMs));
    }
  };
  const lines = (): readonly string[] => {
    const buffer = screen.buffer.active;
    return Array.from(
      { length: screen.rows },
      (_, row) => buffer.getLine(buffer.baseY + row)?.translateToString(true, 0, screen.cols) ?? "",
    );
  };
  const cells = (): readonly (readonly Cell[])[] => {
    const buffer = screen.buffer.active;
    return Array.from({ length: screen.rows }, (_, row) =>
      Array.from({ length: screen.cols }, (_, column) =>
        cellOf(buffer.getLine(buffer.baseY + row)?.getCell(column)),
      ),
    );
  };
  const text = (): string => lines().join("\n");
  return {
    pid: pty.pid,
    lines,
    text,
    painted: () => {
      const buffer = screen.buffer.active;
      return Array.from({ length: screen.rows }, (_, row) => {
        const cells = buffer.getLine(buffer.baseY + row);
        return Array.from({ length: screen.cols }, (_, column) => {
          const cell = cells?.getCell(column);
          if (cell === undefined) return "";
          const characters = cell.getChars().trim();
          // What ink and weight a blank has, nobody sees.
          if (characters === "" && cell.isInverse() === 0) return ` ${cell.getBgColor()}`;
          const look = [cell.getFgColor(), cell.getBgColor(), cell.isBold(), cell.isDim(), cell.isInverse()];
          return `${characters || " "}${look.join(".")}`;
        });
      });
    },
    cells,
    coloured: () => cells().some((row) => row.some((cell) => (cell.ink ?? cell.paper) !== undefined)),
    state: () => ({
      alternate: screen.buffer.active.type === "alternate",
      cursorShown: raw.lastIndexOf("\u001b[?25h") >= raw.lastIndexOf("\u001b[?25l"),
      bracketedPaste: screen.modes.bracketedPasteMode,
    }),
    raw: () => raw,
    press(...keys) {
      for (const key of keys) pty.write(keyBytes[key]);
    },
    type: (typed) => pty.write(typed),
    until,
    shows: (wanted, timeoutMs) =>
      until(
        () => (typeof wanted === "string" ? text().includes(wanted) : wanted.test(text())),
        `the text ${wanted}`,
        timeoutMs,
      ),
    resize(newColumns, newRows) {
      screen.resize(newColumns, newRows);
      pty.resize(newColumns, newRows);
    },
    signal: (name) => process.kill(pty.pid, name),
    async exit(timeoutMs) {
      await until(() => ended !== null, "the program to end", timeoutMs);
      return ended ?? -1;
    },
    close() {
      if (ended === null) pty.kill("SIGKILL");
    },
  };
}

function cellOf(cell: IBufferCell | undefined): Cell {
  if (cell === undefined) throw new Error("the screen lacks a cell within its size");
  return {
    text: cell.getChars(),
    width: cell.getWidth(),
    ink: cell.isFgDefault() ? undefined : cell.getFgColor(),
    paper: cell.isBgDefault() ? undefined : cell.getBgColor(),
    strong: cell.isBold() !== 0,
    dim: cell.isDim() !== 0,
    reverse: cell.isInverse() !== 0,
  };
}

/**
 * Starts an interactive shell with job control on a pseudo-terminal, for what happens between a
 * program and its shell: Ctrl-Z, `fg`, the terminal's modes afterwards (`stty -a`).
 */
export function startShell(options: TerminalOptions = {}): TerminalSession {
  return startInTerminal("bash", ["--norc", "--noprofile", "-i"], {
    ...options,
    env: { PS1: "prompt> ", HISTFILE: undefined, BASH_SILENCE_DEPRECATION_WARNING: "1", ...options.env },
  });
}
