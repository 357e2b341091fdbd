/** One part of the ingest benchmark: prints rows a second, start-up taken off, and peak memory. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";

const [part = "", folder = "", cores = "1"] = process.argv.slice(2);

/** A built module, typed by its source. */
async function built<Module>(path: string): Promise<Module> {
  return (await import(new URL(`../dist/${path}`, import.meta.url).href)) as Module;
}

const { readFleet } = await built<typeof import("../src/fleet/read.ts")>("fleet/read.js");
const { ruleSettings } = await built<typeof import("../src/detect/rules.ts")>("detect/rules.js");
const read = readFleet(
  readFileSync(join(folder, "fleet.yaml"), "utf8"),
  { path: "fleet.yaml", folder },
  ruleSettings,
);
if ("problems" in read) throw new Error(read.problems.join("\n"));
const { fleet } = read;
const logs = () => readdirSync(fleet.logs).map((name) => readFileSync(join(fleet.logs, name)));

const parts: Readonly<Record<string, () => Promise<{ rows: number; ms: number }>>> = {
  "csv-parse": async () => {
    let rows = 0;
    let ms = 0;
    for (const bytes of logs()) {
      const begun = performance.now();
      const records = parse(bytes);
      const columns = Array.from({ length: 8 }, () => new Float64Array(records.length));
      for (let r = 1; r < records.length; r++) {
        const record = records[r];
        columns[0][r] = Date.parse(record[0]);
        for (let c = 1; c < 8; c++) columns[c][r] = c === 6 ? Number(record[c] === "on") : Number(record[c]);
      }
      ms += performance.now() - begun;
      rows += records.length - 1;
    }
    return { rows, ms };
  },
  decode: async () => {
    const { createDecoder, newDecodeState } =
      await built<typeof import("../src/acquire/decode.ts")>("acquire/decode.js");
    const { zoneReader } = await built<typeof import("../src/acquire/zone.ts")>("acquire/zone.js");
    const piece = 256 * 1024;
    let rows = 0;
    let ms = 0;
    for (const bytes of logs()) {
      const begun = performance.now();
      const decoder = createDecoder(fleet.units[0], fleet.timezone, zoneReader(fleet.timezone));
      const space = decoder.newSpace();
      let state = newDecodeState();
      for (let at = 0; at < bytes.length; ) {
        const block = decoder.decode(
          state,
          bytes.subarray(at, at + piece),
          at + piece >= bytes.length,
          space,
        );
        at += block.consumed;
        state = block.state;
        rows += block.rows;
      }
      ms += performance.now() - begun;
    }
    return { rows, ms };
  },
  whole: async () => {
    const { readOnce } =
      await built<typeof import("../src/collector/read-once.ts")>("collector/read-once.js");
    const { startRemoteShare } =
      await built<typeof import("../src/collector/share-client.ts")>("collector/share-client.js");
    const started = Array.from({ length: Number(cores) - 1 }, startRemoteShare);
    await Promise.all(started.map(({ ready }) => ready));
    const begun = performance.now();
    const { units } = await readOnce(fleet, { services: [], started });
    const ms = performance.now() - begun;
    return { rows: units.reduce((sum, { view }) => sum + view.log.rows, 0), ms };
  },
};

const { rows, ms } = await parts[part]();
const peakMb = process.resourceUsage().maxRSS / 1024;
process.stdout.write(JSON.stringify({ rowsPerS: (rows / ms) * 1000, peakMb }));
