import { readdirSync, readFileSync } from "node:fs";
import { it } from "vitest";
import { outcomeOf } from "./odd-log-outcome.ts";
import { logFolder } from "./workbench.ts";
it("dump", async () => {
  const folder = logFolder();
  const dir = new URL("odd-logs/", import.meta.url);
  for (const name of readdirSync(dir).filter((n) => n.endsWith(".csv"))) {
    const bytes = readFileSync(new URL(name, dir));
    const { readings, ...o } = await outcomeOf(folder, name, [bytes], "America/Chicago");
    console.log(name, JSON.stringify(o, null, 1).replaceAll("\n", " "));
    if (/time|unix|leap|hour|units|status/.test(name)) console.log("   ", readings.map((r) => JSON.stringify(r)).join(" "));
  }
}, 60000);
