import { execFile } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import type { FollowedMany } from "./follow-many-child.ts";
import { logFolder, write } from "./workbench.ts";

const child = fileURLToPath(new URL("follow-many-child.ts", import.meta.url));
const rows = "time,motor_current_a\n2026-05-04T03:00:00Z,9\n2026-05-04T03:00:10Z,9\n";

/** Follows that many logs in a process of its own that may hold 256 files open. */
async function followMany(folder: string, count: number, how: "watching" | "polling"): Promise<FollowedMany> {
  const shell = `ulimit -n 256 && exec "$0" "$@"`;
  const { stdout } = await promisify(execFile)("sh", [
    "-c",
    shell,
    process.execPath,
    child,
    folder,
    String(count),
    how,
  ]);
  return JSON.parse(stdout) as FollowedMany;
}

describe.skipIf(process.platform === "win32")("600 logs where 256 files may be open", () => {
  const count = 600;

  it("in one folder: all are read, and what ten of them grow by as well", async () => {
    const folder = logFolder();
    for (let i = 0; i < count; i++) write(folder, `U-${i}.csv`, rows);
    const { handles, ...followed } = await followMany(folder, count, "watching");
    expect(followed).toEqual({ rows: 2 * count + 10, problems: [], notices: [] });
    expect(handles).toBeLessThan(64);
  });

  it("in a folder each, looked through every second", async () => {
    const folder = logFolder();
    for (let i = 0; i < count; i++) {
      mkdirSync(join(folder, `U-${i}`));
      write(join(folder, `U-${i}`), "day.csv", rows);
    }
    const { rows: read, problems, notices } = await followMany(folder, count, "polling");
    expect({ read, problems }).toEqual({ read: 2 * count + 10, problems: [] });
    expect(notices).toHaveLength(1);
  });

  it("all of one unit", async () => {
    const folder = logFolder();
    mkdirSync(join(folder, "U-0"));
    for (let i = 0; i < count; i++) {
      const at = new Date(Date.UTC(2026, 3, 1) + i * 20_000).toISOString();
      write(join(folder, "U-0"), `${i}.csv`, `time,motor_current_a\n${at},9\n`);
    }
    const { rows: read, problems } = await followMany(folder, 1, "watching");
    expect({ read, problems }).toEqual({ read: count + 1, problems: [] });
  });
});
