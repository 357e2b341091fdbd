import { appendFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as after } from "node:timers/promises";
import { expect, it, vi } from "vitest";
import { findLogs } from "../../src/acquire/find.ts";
import { startCollector } from "../../src/collector/collector.ts";
import { fleetFile } from "../support/fleets.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";

const header = "time,motor_current_a\n";

it("a log that comes while the folder is being looked through is followed, however long that look takes", async () => {
  const folder = folderWith({ "logs/LM-01.csv": `${header}2026-05-04T00:00:00Z,9.1\n` });
  const logs = join(folder, "logs");
  const fleet = { ...fleetOf(fleetFile(["{ id: LM-01 }"]), folder), logs };
  let begun = 0;
  let seen = 0;
  let end = (): void => undefined;
  const slow = new Promise<void>((resolve) => {
    end = resolve;
  });
  const find: typeof findLogs = async (of) => {
    begun++;
    const isSlow = begun === 2;
    const found = await findLogs(of);
    seen++;
    if (isSlow) await slow;
    return found;
  };
  const clock = { originMs: Date.parse("2026-05-04T00:01:00Z"), wallMs: 0, speed: 0 };
  const collector = await startCollector(
    { fleet, stateFolder: folder, clock },
    { onChange: () => undefined },
    { find },
  );
  try {
    const rows = () => collector.view().units[0]?.log.rows;
    const until = (met: () => void) => vi.waitFor(met, { timeout: 30_000, interval: 20 });
    await until(() => expect(rows()).toBe(1));
    writeFileSync(join(logs, "LM-01-b.csv"), `${header}2026-05-04T00:00:10Z,9.2\n`);
    await until(() => expect(seen).toBe(2));
    writeFileSync(join(logs, "LM-01-c.csv"), `${header}2026-05-04T00:00:20Z,9.3\n`);
    // Longer than the watcher takes to tell of it.
    await after(400);
    end();
    await until(() => expect(rows()).toBe(3));
    appendFileSync(join(logs, "LM-01-c.csv"), "2026-05-04T00:00:30Z,9.4\n");
    await until(() => expect(rows()).toBe(4));
  } finally {
    end();
    await collector.close();
  }
});
