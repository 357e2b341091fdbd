// The built dashboard over an invented fleet, for tests in a real pseudo-terminal. Arguments: how many units, and a mode.
import type { runDashboard } from "../../src/dashboard/run.tsx";
import { fixtureSource, fleetView, nightMs } from "./fixture.ts";

const built = new URL("../../dist/dashboard/run.js", import.meta.url);
const dashboard = (await import(built.href)) as { runDashboard: typeof runDashboard };
const [unitsText = "14", mode = "plain"] = process.argv.slice(2);
const count = Number(unitsText);
/** Wide, joined, turning, hidden and controlling characters. */
const oddNames = [
  { id: "深い池-1", site: "池".repeat(60) },
  { id: "🐟-2", site: "👩‍👩‍👧 pond" },
  { id: "\u202eLM-3", site: "right \u202eto left" },
  { id: "a\u200bb\u200d-4", site: "nothing\u200b seen" },
  { id: "\u001b[31mred-5", site: "\u0007bell\r\n" },
  { id: "e\u0301e\u0301-6", site: null },
];
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
const over =
  mode === "demonstration"
    ? { demonstration: { speed: 30 } }
    : mode === "odd names"
      ? { units: fleetView(count).units.map((each, n) => ({ ...each, ...oddNames[n % oddNames.length] })) }
      : {};
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
