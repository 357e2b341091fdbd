import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { stageDemo } from "../../src/simulate/stage.ts";
import { day, iso } from "../../src/terms/time.ts";
import { browserPath, openPage } from "../support/browser.ts";
import { projectFolder, run } from "../support/program.ts";

const width = 800;

/** The manual's pictures of a report, each of what lies between two elements of its page. */
export const reportPictures: readonly {
  readonly name: string;
  readonly from: string;
  readonly to: string;
}[] = [
  { name: "report.png", from: "h1", to: "h2 ~ h2 ~ h2 ~ h2" },
  { name: "report-unit.png", from: "section.unit", to: "figure ~ figure ~ figure ~ figure" },
];

/** Collects on the fleet of `ponds` until all of its logs are read. */
async function collect(ponds: string): Promise<void> {
  const args = [join(projectFolder, "dist", "launch.js"), "collect", "fleet.yaml", "--state", "state"];
  const child = spawn(process.execPath, args, { cwd: ponds, stdio: ["ignore", "pipe", "inherit"] });
  const ended = once(child, "exit");
  let hasRead = false;
  for await (const line of createInterface({ input: child.stdout })) {
    if (!line.includes("the logs have been read up to now")) continue;
    hasRead = true;
    child.kill("SIGINT");
  }
  await ended;
  if (!hasRead) throw new Error("the collector ended before it had read the logs");
}

/** A report of one site of the demonstration over its day, whose end is now, with what people may have said of it. */
async function reportIn(ponds: string): Promise<string> {
  const nowMs = Date.now();
  await stageDemo({ samples: join(projectFolder, "sample-logs"), into: ponds, nowMs });
  await collect(ponds);
  const found = ["--oxygen", "7.4 mg/L", "--secchi", "4 ft", "--ground-fault", "tripped", "--by", "Ann"];
  const calls = [
    ["alarm", "acknowledge", "fleet.yaml", "OX-02", "ozone-off", "--by", "Ann"],
    ["service", "done", "fleet.yaml", "OX-01", "inspection", ...found],
    [
      "report",
      "fleet.yaml",
      "--site",
      "Oxbarrow trout ponds",
      "--from",
      iso(nowMs - day),
      "--out",
      "report.html",
    ],
  ];
  for (const call of calls) {
    const { status, stderr } = await run([...call, "--state", "state"], { cwd: ponds });
    if (status !== 0) throw new Error(stderr);
  }
  return join(ponds, "report.html");
}

/** Remakes the pictures of a report in `folder`; where there is no browser it leaves them and says so. */
export async function writeReportPictures(folder: URL): Promise<void> {
  if (browserPath === undefined) {
    console.error("no browser here: the pictures of the report stay as they are; put chromium on the PATH");
    return;
  }
  const ponds = mkdtempSync(join(tmpdir(), "tarnwatch-ponds-"));
  const page = await openPage(await reportIn(ponds));
  try {
    // So high that no scroll bar takes from the width.
    const screen = { width, height: 20_000, deviceScaleFactor: 1, mobile: false };
    await page.call("Emulation.setDeviceMetricsOverride", screen);
    const topOf = (selector: string) =>
      page.value<number>(`document.querySelector(${JSON.stringify(selector)}).getBoundingClientRect().top`);
    for (const { name, from, to } of reportPictures) {
      const y = Math.max(0, (await topOf(from)) - 12);
      const { data } = await page.call<{ data: string }>("Page.captureScreenshot", {
        format: "png",
        clip: { x: 0, y, width, height: (await topOf(to)) - y - 12, scale: 1 },
      });
      writeFileSync(new URL(name, folder), Buffer.from(data, "base64"));
    }
  } finally {
    await page.close();
    rmSync(ponds, { recursive: true });
  }
}
