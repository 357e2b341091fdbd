// The built dashboard over an invented fleet, for tests in a real pseudo-terminal. Arguments: how many units, and a mode.
import type { runDashboard } from "../../src/dashboard/run.tsx";
import { fixtureSource, fleetView, nightMs } from "./fixture.ts";

const built = new URL("../../dist/dashboard/run.js", import.meta.url);
const dashboard = (await import(built.href)) as { runDashboard: typeof runDashboard };
const [unitsText = "14", mode = "plain"] = process.argv.slice(2);
const count = Number(unitsText);
const stopAtFirstFrame = /^stopped by (SIGTSTP|SIGSTOP)$/.exec(mode)?.[1];
if (stopAtFirstFrame !== undefined) {
  const write = process.stdout.write;
  process.stdout.write = (...written: [never]) => {
    const more = write.apply(process.stdout, written);
    if (String(written[0]).includes("q quits")) {
      process.stdout.write = write;
      process.kill(process.pid, stopAtFirstFrame);
    }
    return more;
  };
}
const over = mode === "demonstration" ? { demonstration: { speed: 30 } } : {};
const source = fixtureSource(fleetView(count, over));
let shown = 0;
const feed = setInterval(() => {
  shown += 1;
  source.show(fleetView(count, { ...over, clockMs: nightMs + shown * 1000 }));
  if (mode === "crash") throw new Error("the fixture broke on purpose");
}, 200);
const how = await dashboard.runDashboard(source, { debug: process.argv.includes("--debug") });
clearInterval(feed);
process.stderr.write(`ended by ${how}\n`);
