import { appendFileSync, readdirSync } from "node:fs";
import { bareFleet } from "../../src/acquire/bare-unit.ts";
import { findLogs } from "../../src/acquire/find.ts";
import { followLogs } from "../../src/acquire/follow.ts";
import { openUnitLog } from "../../src/acquire/unit-log.ts";

/** What following many logs, in a process that may hold few files open, came to. */
export interface FollowedMany {
  readonly rows: number;
  readonly problems: readonly string[];
  readonly notices: readonly string[];
  /** Open while every unit is followed. */
  readonly handles: number;
}

const [folder = "", count = "0", follow = "watching"] = process.argv.slice(2);
const bare = bareFleet("log", folder);
const units = Array.from({ length: Number(count) }, (_, i) => ({ ...bare.unit, id: `U-${i}` }));
const fleet = {
  ...bare.fleet,
  follow: follow === "polling" ? ("polling" as const) : ("watching" as const),
  units,
};
const problems: string[] = [];
const notices: string[] = [];

const { files } = await findLogs(fleet);
const logs = new Map(units.map((unit) => [unit.id, openUnitLog(unit, fleet)]));
for (const [id, log] of logs) log.setFiles(files.get(id) ?? []);
async function read(ids: Iterable<string>): Promise<number> {
  let rows = 0;
  for (const id of ids) {
    const log = logs.get(id);
    if (log === undefined) continue;
    for await (const batch of log.read()) rows += batch.rows;
    const { problem } = log.status();
    if (problem !== null) problems.push(problem);
  }
  return rows;
}

let rows = await read(logs.keys());
const grown = units.filter((_, i) => i % Math.ceil(units.length / 10) === 0);
await new Promise<void>((resolve) => {
  let reading = Promise.resolve();
  const wanted = rows + grown.length;
  void followLogs(
    fleet,
    (ids) => {
      reading = reading.then(async () => {
        rows += await read(ids);
        if (rows >= wanted) resolve();
      });
    },
    (line) => notices.push(line),
  ).then(() => {
    for (const { id } of grown) {
      const [path = ""] = files.get(id) ?? [];
      appendFileSync(path, "2026-05-04T04:00:00Z,9\n");
    }
  });
});
const handles = process.platform === "linux" ? readdirSync("/proc/self/fd").length : 0;
process.stdout.write(JSON.stringify({ rows, problems, notices, handles } satisfies FollowedMany), () =>
  process.exit(0),
);
