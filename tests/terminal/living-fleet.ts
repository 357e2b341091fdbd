import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { dry, fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith } from "../support/program.ts";
import { clean, readings, type Values } from "../support/unit-days.ts";

/** A small fleet whose loggers go on writing. */
export interface LivingFleet {
  readonly fleet: string;
  readonly state: string;
  /** Whether the loggers write; what they have not written meanwhile comes afterwards. */
  write(on: boolean): void;
  /** Ends the loggers. */
  stop(): void;
}

const everyS = 2;
const pastS = 3600;
/** LM-01 loses its prime and finds it again over and over, so that a high alarm comes and goes. */
const faultS = 40;

const units: Readonly<Record<string, (second: number) => Values>> = {
  "LM-01": (s) =>
    s >= pastS - faultS && Math.floor((s - pastS) / faultS) % 2 !== 0
      ? { ...clean(s), ...dry }
      : { ...clean(s), ozone: 1 },
  "LM-02": (s) => ({ ...clean(s), ozone: 1 }),
  "LM-03": (s) => ({ ...clean(s), ozone: s < pastS - 900 ? 1 : 0 }),
  "LM-04": clean,
};

/** Four units at two sites: LM-02 has an ozone alarm that stays, LM-03 a cell that is off, a fifth has no log. */
export function livingFleet(): LivingFleet {
  const startMs = Math.floor(Date.now() / 2000) * 2000 - pastS * 1000;
  const stretch = (from: number, to: number, values: (second: number) => Values) =>
    logText(
      readings([{ seconds: to - from, values: (s) => values(s + from) }], everyS, startMs + from * 1000),
    );
  const logs = Object.entries(units);
  const keys = "runs: always, sample_interval: 2 s";
  const folder = folderWith({
    "fleet.yaml": fleetFile([
      `{ id: LM-01, site: Heron Bend, ${keys} }`,
      `{ id: LM-02, site: Heron Bend, ozone: none, ${keys} }`,
      `{ id: LM-03, site: Otter Weir, ${keys} }`,
      `{ id: LM-04, site: Otter Weir, ${keys} }`,
      "{ id: LM-05, site: Otter Weir }",
    ]),
    ...Object.fromEntries(logs.map(([id, values]) => [`logs/${id}.csv`, stretch(0, pastS, values)])),
  });
  let written = pastS;
  let writes = true;
  const logger = setInterval(() => {
    const to = Math.floor((Date.now() - startMs) / 1000 / everyS) * everyS;
    if (!writes || to <= written) return;
    for (const [id, values] of logs) {
      const [, ...rows] = stretch(written, to, values).split("\n");
      appendFileSync(join(folder, "logs", `${id}.csv`), rows.join("\n"));
    }
    written = to;
  }, 500);
  return {
    fleet: join(folder, "fleet.yaml"),
    state: join(folder, "state"),
    write: (on) => {
      writes = on;
    },
    stop: () => clearInterval(logger),
  };
}
