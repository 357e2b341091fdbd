import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The checkout, and the built program in it. */
export const projectFolder = fileURLToPath(new URL("../..", import.meta.url));
const launcher = join(projectFolder, "dist", "launch.js");

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Start {
  readonly cwd?: string;
  /** Over `environment`. */
  readonly env?: Readonly<Record<string, string>>;
  readonly input?: string;
}

/** The test's own environment without the traces of npm and the test runner, but with what is compiled already. */
export const environment = Object.fromEntries(
  Object.entries(process.env).filter(
    ([name]) => !/^npm_|^INIT_CWD$|^NODE_(?!COMPILE_CACHE$)|^VITEST|^FORCE_COLOR$/.test(name),
  ),
);

/** Runs the built program as a shell would, without a terminal. */
export function run(args: readonly string[], start: Start = {}): Promise<Ended> {
  return runOther(process.execPath, [launcher, ...args], start);
}

/** Runs another program, such as npm. */
export async function runOther(program: string, args: readonly string[], start: Start = {}): Promise<Ended> {
  const child = spawn(program, args, {
    cwd: start.cwd ?? tmpdir(),
    env: { ...environment, ...start.env },
    stdio: ["pipe", "pipe", "pipe"],
  });
  const out: Buffer[] = [];
  const err: Buffer[] = [];
  child.stdout.on("data", (bytes: Buffer) => out.push(bytes));
  child.stderr.on("data", (bytes: Buffer) => err.push(bytes));
  // A program that ends at once reads nothing of what is written to it.
  child.stdin.on("error", () => undefined);
  child.stdin.end(start.input ?? "");
  const status = await new Promise<number | null>((resolve, reject) => {
    child.on("error", reject);
    child.on("close", resolve);
  });
  return {
    status,
    stdout: Buffer.concat(out).toString("utf8"),
    stderr: Buffer.concat(err).toString("utf8"),
  };
}

const made: string[] = [];

/** What follows every test file (vitest.config.ts: setupFiles), whether or not it shares its worker. */
export function removeFolders(): void {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
}

/** A new temporary folder with these files, removed when the test file has run; its absolute path. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-test-"));
  made.push(folder);
  for (const [name, content] of Object.entries(files)) {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, content);
  }
  return folder;
}

/** The one line on standard error of a command that could not do its work; anything else fails the test. */
export function onlyError({ status, stdout, stderr }: Ended): string {
  const lines = stderr.split("\n");
  if (status !== 2 || stdout !== "" || lines.length !== 2 || lines[1] !== "") {
    throw new Error(`not exit 2 with one line: exit ${status}, stdout ${JSON.stringify(stdout)}, ${stderr}`);
  }
  if (/^\s+at .*[:(]\d+|node:internal/m.test(stderr)) throw new Error(`a stack trace: ${stderr}`);
  return lines[0] ?? "";
}
