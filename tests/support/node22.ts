import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import { projectFolder } from "./program.ts";

/** The oldest line of Node that the program runs on, at the version tried. */
const version = "22.23.3";
const folder = join(projectFolder, "node_modules", ".cache", "tarnwatch", `node-${version}`);
const program = join(folder, "node_modules", `node-linux-${process.arch}`, "bin", "node");

/**
 * A Node 22 beside the checkout's own: fetched once from the package registry into the checkout's cache, since two
 * versions in one tree of packages fight for `.bin/node`. Undefined where it cannot be had: offline, or not on Linux.
 */
export function node22(): string | undefined {
  if (existsSync(program)) return program;
  const into = `${folder}.${process.pid}`;
  try {
    mkdirSync(into, { recursive: true });
    const install = ["install", "--prefix", into, "--no-save", "--ignore-scripts", "--no-audit", "--no-fund"];
    execFileSync("npm", [...install, `node-linux-${process.arch}@${version}`], {
      stdio: "ignore",
      timeout: 60_000,
    });
    renameSync(into, folder);
  } catch {
    // Another test may have been quicker.
    rmSync(into, { recursive: true, force: true });
  }
  return existsSync(program) ? program : undefined;
}
