import { cpSync } from "node:fs";
import { setTimeout as wait } from "node:timers/promises";
import { node, startInTerminal, type TerminalSession } from "../terminal/pty.ts";

/**
 * A screen of the manual, as its page says it: `ARGUMENTS | KEYS | …`. Keys are `enter`, `tab`, or text as it stands.
 * `size 100 30` sets columns and rows, 80 × 24 without it; `rows N` keeps the first N rows; `with NAME=VALUE` sets a
 * variable of the environment. They are of replays, which begin paused by the key `p`, so the same bytes come each time.
 */
export interface Said {
  readonly args: readonly string[];
  readonly keys: readonly string[];
  readonly columns: number;
  readonly rows: number;
  readonly kept: number;
  readonly env: Readonly<Record<string, string>>;
}

const named: Readonly<Record<string, string>> = { enter: "\r", tab: "\t" };
const stillMs = 300;
const patienceMs = 60_000;

export function readSaid(text: string): Said {
  const [args, ...rest] = text.split(" | ");
  const said = { columns: 80, rows: 24, kept: Number.POSITIVE_INFINITY };
  const keys: string[] = [];
  const env: Record<string, string> = {};
  for (const part of rest) {
    const [word, first, second] = part.split(/[ =]/);
    if (word === "size") Object.assign(said, { columns: Number(first), rows: Number(second) });
    else if (word === "rows") said.kept = Number(first);
    else if (word === "with") env[first] = second;
    else keys.push(named[part] ?? part);
  }
  return { args: args.split(" "), keys, ...said, env };
}

/** Puts the demonstration's recorded day into `folder`, for screens to be of. */
export function copyPonds(folder: string): void {
  cpSync(new URL("../../sample-logs/", import.meta.url), folder, { recursive: true });
}

/** The built program in `folder` once the keys are typed and the screen is still; the caller closes it. */
export async function sessionOf(said: Said, folder: string): Promise<TerminalSession> {
  const program = new URL("../../dist/launch.js", import.meta.url).pathname;
  const { columns, rows, env } = said;
  const session = startInTerminal(node, [program, ...said.args], { cwd: folder, columns, rows, env });
  try {
    await session.shows("q quits", patienceMs);
    await typeKeys(session, said.keys);
    return session;
  } catch (error) {
    session.close();
    throw error;
  }
}

/** Types each key once what the one before brought is shown; every one of them must change the screen. */
export async function typeKeys(session: TerminalSession, keys: readonly string[]): Promise<void> {
  for (const key of keys) {
    const before = session.text();
    session.type(key);
    await session.until(() => session.text() !== before, `what ${JSON.stringify(key)} brings`, patienceMs);
    await isStill(session.text);
  }
}

/** Settles once the screen has not changed for a while. */
export async function isStill(text: () => string): Promise<void> {
  for (let waitedMs = 0; waitedMs < patienceMs; waitedMs += stillMs) {
    const before = text();
    await wait(stillMs);
    if (text() === before && !text().includes("going to")) return;
  }
  throw new Error(`the screen does not come to rest:\n${text()}`);
}
