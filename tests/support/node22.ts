import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** The oldest line of Node that the program runs on, at the version tried. */
const version = "22.23.3";
const folder = join(tmpdir(), `tarnwatch-node-${version}`);
const program = join("node_modules", `node-linux-${process.arch}`, "bin", "node");

/** Whether the Node in a folder is there and runs. */
function runs(into: string): boolean {
  try {
    return execFileSync(join(into, program), ["--version"], { encoding: "utf8" }).trim() === `v${version}`;
  } catch {
    return false;
  }
}

/**
 * A Node 22 beside the checkout's own: fetched once from the package registry into a temporary folder, since two
 * versions in one tree of packages fight for `.bin/node`. Undefined where it cannot be had: offline, or not on Linux.
 */
export function node22(): string | undefined {
  if (runs(folder)) return join(folder, program);
  const into = mkdtempSync(`${folder}.`);
  try {
    const install = ["install", "--prefix", into, "--no-save", "--ignore-scripts", "--no-audit", "--no-fund"];
    execFileSync("npm", [...install, `node-linux-${process.arch}@${version}`], {
      stdio: "ignore",
      timeout: 60_000,
    });
    if (!runs(into)) return undefined;
    // One that was there does not run.
    if (existsSync(folder)) rmSync(folder, { recursive: true });
    renameSync(into, folder);
  } catch {
    // Another test may have been quicker, or it cannot be had.
  } finally {
    rmSync(into, { recursive: true, force: true });
  }
  return runs(folder) ? join(folder, program) : undefined;
}
