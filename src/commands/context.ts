import { relative, resolve } from "node:path";
import { visible } from "../terms/text.ts";

/** Something a person must know or do; `main` prints its lines and exits 2. */
export class CannotWork extends Error {
  readonly lines: readonly string[];
  constructor(...lines: readonly string[]) {
    super(lines.join("\n"));
    this.lines = lines;
  }
}

/** A path as the caller meant it: npm runs scripts in the package's folder and names the caller's in INIT_CWD. */
export function callersPath(path: string): string {
  const from = process.env.npm_lifecycle_event ? process.env.INIT_CWD : undefined;
  return resolve(from ?? process.cwd(), path);
}

/** The program as the caller has just started it, for a line to be typed next. */
export function commandName(): string {
  const { npm_lifecycle_event: script, INIT_CWD: caller } = process.env;
  if (script !== "tarnwatch" && script !== "start") return "tarnwatch";
  const isInside = caller === undefined || !relative(process.cwd(), caller).startsWith("..");
  return `npm ${isInside ? "" : `--prefix ${process.cwd()} `}run -s tarnwatch --`;
}

/** Why a file cannot be used, by the system's code and what was tried; other codes keep the system's words. */
const whys: Readonly<Record<string, string | { readonly read: string; readonly write: string }>> = {
  ENOENT: { read: "there is no such file", write: "there is no such folder" },
  EACCES: { read: "no permission to read it", write: "no permission to write it" },
  EPERM: { read: "no permission to read it", write: "no permission to write it" },
  EISDIR: "it is a folder, not a file",
  EEXIST: "it is a file, not a folder",
  ENOTDIR: "a part of this path is a file, not a folder",
  ENOSPC: "no space is left",
  EROFS: "what holds it can only be read",
};

/** The one line for a failed file operation: what, where, why. */
export function fileProblem(path: string, error: unknown, doing: "read" | "write" = "read"): string {
  const { code, message } = error as NodeJS.ErrnoException;
  const known = whys[code ?? ""] ?? message;
  return `${visible(path)}: ${visible(typeof known === "string" ? known : known[doing])}`;
}

process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  // A reader that has seen enough, such as head, or a terminal that is gone: nobody misses the rest.
  if (error.code === "EPIPE" || error.code === "EIO") return;
  const why = error.code === "ENOSPC" ? "no space is left; free some, or write elsewhere" : error.message;
  process.stderr.write(`standard output: ${visible(why)}\n`);
  process.exit(2);
});

/** Writes a line to standard output. */
export function print(line: string): void {
  process.stdout.write(`${line}\n`);
}
