import { execFile } from "node:child_process";
import { once } from "node:events";
import { createWriteStream, mkdirSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { ruleSettings } from "../../src/detect/rules.ts";
import { readFleet } from "../../src/fleet/read.ts";
import type { ReadThrough } from "./read-through-child.ts";
import { header, logFolder, rowsOf, write } from "./workbench.ts";

const mebibyte = 1024 ** 2;
/** What the whole program may hold, whatever the length of its logs. */
const mostMiB = 250;
/** What is held counts, not what the engine has not yet swept up: with more memory it sweeps later. */
const smallHeap = ["--max-old-space-size=96", "--max-semi-space-size=4"];
const child = fileURLToPath(new URL("read-through-child.ts", import.meta.url));

/** Reads units' logs in a process of its own, the bad ones first; the one beside them must be read whole. */
async function readThroughAll(folder: string, bad: readonly string[]): Promise<ReadThrough["units"]> {
  write(folder, "beside.csv", `${header}\n${rowsOf(0, 100)}`);
  const { stdout } = await promisify(execFile)(process.execPath, [
    ...smallHeap,
    child,
    folder,
    ...bad,
    "beside",
  ]);
  const { units, peakMiB } = JSON.parse(stdout) as ReadThrough;
  expect(units.beside).toMatchObject({ rows: 100, rejected: 0, problem: null });
  expect(peakMiB).toBeLessThan(mostMiB);
  return units;
}

async function readThrough(folder: string, bad: string): Promise<ReadThrough["units"][string]> {
  const { [bad]: read } = await readThroughAll(folder, [bad]);
  return read;
}

async function writeLong(path: string, pieces: readonly (string | { fill: string; mebibytes: number })[]) {
  const file = createWriteStream(path);
  for (const piece of pieces) {
    if (typeof piece === "string") file.write(piece);
    else {
      const block = Buffer.alloc(mebibyte, piece.fill);
      for (let i = 0; i < piece.mebibytes; i++) if (!file.write(block)) await once(file, "drain");
    }
  }
  file.end();
  await once(file, "close");
}

/** Members of a gzip file may follow one another (RFC 1952, 2.2), so a bomb is soon written. */
function bomb(beginning: string, fill: string, mebibytes: number): Buffer {
  const member = gzipSync(Buffer.alloc(16 * mebibyte, fill), { level: 9 });
  return Buffer.concat([gzipSync(beginning), ...Array.from({ length: mebibytes / 16 }, () => member)]);
}

const unpacks =
  "it unpacks to more than 256 MiB and 100 times its size, as no log does, so no more of it is read; compress the log again, or give it as plain .csv";

describe("memory stays bounded, it is reported, and the other units go on", () => {
  it("a line of 200 MB without an end costs one rejected row", async () => {
    const folder = logFolder();
    await writeLong(join(folder, "LM-01.csv"), [
      `${header}\n${rowsOf(0, 2)}`,
      { fill: "9", mebibytes: 200 },
      `\n${rowsOf(2, 4)}`,
    ]);
    expect(await readThrough(folder, "LM-01")).toEqual({
      rows: 4,
      rejected: 1,
      problem: null,
      why: ["line 4: no end of the row within 1 MiB"],
    });
  });

  it("a header, a comment before it and blanks before it, each of 200 MB without an end", async () => {
    const folder = logFolder();
    const fills = { header: "x", comment: "#", blanks: " " };
    for (const [id, fill] of Object.entries(fills))
      await writeLong(join(folder, `${id}.csv`), [{ fill, mebibytes: 200 }]);
    const units = await readThroughAll(folder, Object.keys(fills));
    for (const id of Object.keys(fills)) {
      expect(units[id]).toMatchObject({
        rows: 0,
        problem: `${id}.csv: its header cannot be read: no end of the row within 1 MiB`,
      });
    }
  });

  it("an opened quote and 200 MB behind it", async () => {
    const folder = logFolder();
    await writeLong(join(folder, "LM-01.csv"), [
      `${header}\n${rowsOf(0, 2)}"`,
      { fill: "9", mebibytes: 200 },
      `\n${rowsOf(2, 4)}`,
    ]);
    expect(await readThrough(folder, "LM-01")).toMatchObject({ rows: 4, rejected: 1 });
  });

  it("a header of 10,000 columns", async () => {
    const folder = logFolder();
    const many = Array.from({ length: 10_000 }, (_, i) => `c${i}`).join(",");
    write(folder, "LM-01.csv", `time,motor_current_a,${many}\n`);
    expect((await readThrough(folder, "LM-01")).problem).toBe(
      "LM-01.csv: the header has 10002 columns; at most 1000 are read",
    );
  });

  it("hundreds of thousands of rows that cannot be read are counted, and the newest 100 kept", async () => {
    const folder = logFolder();
    await writeLong(join(folder, "LM-01.csv"), [`${header}\n`, "nonsense\n".repeat(300_000), rowsOf(0, 1)]);
    const read = await readThrough(folder, "LM-01");
    expect(read).toMatchObject({ rows: 1, rejected: 300_000, problem: null });
    expect(read.why[0]).toBe("line 300001: the row ends early: 1 of 4 columns");
  });

  it.each([
    ["one endless line", "9"],
    ["blank lines", "\n"],
  ])("a gzip bomb of %s is left where no log would go on", async (_, fill) => {
    const folder = logFolder();
    write(folder, "LM-01.csv.gz", bomb(`${header}\n${rowsOf(0, 3)}`, fill, 512));
    expect(await readThrough(folder, "LM-01")).toMatchObject({
      rows: 3,
      problem: `LM-01.csv.gz: ${unpacks}`,
    });
  });

  it("a gzip bomb of zeros is no text", async () => {
    const folder = logFolder();
    write(folder, "LM-01.csv.gz", bomb("", "\0", 512));
    expect((await readThrough(folder, "LM-01")).problem).toBe(
      "LM-01.csv.gz: it is binary (NUL bytes), not CSV text; give the logger's CSV export",
    );
  });

  it("links that lead in circles", async () => {
    const folder = logFolder();
    symlinkSync(join(folder, "LM-01-b.csv"), join(folder, "LM-01-a.csv"));
    symlinkSync(join(folder, "LM-01-a.csv"), join(folder, "LM-01-b.csv"));
    mkdirSync(join(folder, "deep"));
    symlinkSync(folder, join(folder, "deep", "round"));
    for (let i = 0; i < 12; i++) {
      mkdirSync(join(folder, `f${i}`));
      for (let k = 0; k < 12; k++) symlinkSync(join(folder, `f${k}`), join(folder, `f${i}`, `to${k}`));
    }
    expect((await readThrough(folder, "LM-01")).problem).toBe(
      `no log in ${folder}; name it LM-01.csv, or write a log key; 'LM-01-a.csv' is a link that leads in a circle; 'LM-01-b.csv' is a link that leads in a circle`,
    );
  });

  it("units called as what every object knows", async () => {
    const folder = logFolder();
    const ids = ["__proto__", "constructor", "toString", "hasOwnProperty"];
    for (const [i, id] of ids.entries()) write(folder, `${id}.csv`, `${header}\n${rowsOf(0, 5 + i)}`);
    const units = await readThroughAll(folder, ids);
    expect(Object.keys(units)).toEqual([...ids, "beside"]);
    for (const [i, id] of ids.entries()) {
      expect(Object.getOwnPropertyDescriptor(units, id)?.value).toMatchObject({
        rows: 5 + i,
        rejected: 0,
        problem: null,
      });
    }
  });

  it("headers that every object knows are no channels", async () => {
    const folder = logFolder();
    const odd = "__proto__,constructor,motor_current_constructor,motor_current___proto__,ozone_toString";
    write(folder, "LM-01.csv", `time,${odd},motor_current_a\n2026-05-04T03:00:00Z,1,2,3,x,y,9.5\n`);
    write(folder, "LM-02.csv", `time,${odd}\n2026-05-04T03:00:00Z,1,2,3,x,y\n`);
    const units = await readThroughAll(folder, ["LM-01", "LM-02"]);
    expect(units["LM-01"]).toMatchObject({ rows: 1, rejected: 0, problem: null });
    expect(units["LM-02"].problem).toContain("no known channel in its header");
  });
});

describe("fleet files with keys that every object knows", () => {
  const problemsOf = (text: string): readonly string[] => {
    const read = readFleet(text, { path: "fleet.yaml", folder: "/ponds" }, ruleSettings);
    return "problems" in read ? read.problems : [];
  };

  it.each([
    ["at the top", "__proto__: 1\nunits: [{ id: U }]", "fleet.yaml:1:1 __proto__: this key is not known"],
    ["at the top", "constructor: 1\nunits: [{ id: U }]", "fleet.yaml:1:1 constructor: this key is not known"],
    [
      "at a unit",
      "units:\n  - id: U\n    __proto__: { log: x }",
      "fleet.yaml:3:5 units[0].__proto__: this key is not known",
    ],
    [
      "in columns",
      "units:\n  - id: U\n    columns: { constructor: x }",
      "fleet.yaml:3:16 units[0].columns.constructor: this key is not known",
    ],
    [
      "in limits",
      "units:\n  - id: U\n    limits: { __proto__: { delay: 1 s } }",
      "fleet.yaml:3:15 units[0].limits.__proto__: this key is not known",
    ],
    [
      "in defaults",
      "defaults: { motor: { __proto__: 1 } }\nunits: [{ id: U }]",
      "fleet.yaml:1:22 defaults.motor.__proto__: this key is not known",
    ],
  ])("%s: refused with its place", (_, text, line) => {
    expect(problemsOf(text)).toEqual([expect.stringContaining(line)]);
    expect(({} as { log?: unknown }).log).toBeUndefined();
  });

  it("a site may be called constructor, and __proto__ is refused rather than lost", () => {
    const named = (site: string) => `sites: { ${site}: { customer: A } }\nunits: [{ id: U, site: ${site} }]`;
    const read = readFleet(named("constructor"), { path: "fleet.yaml", folder: "/ponds" }, ruleSettings);
    expect("fleet" in read && read.fleet.sites).toMatchObject([{ name: "constructor", customer: "A" }]);
    expect(problemsOf(named("__proto__"))).toEqual([
      "fleet.yaml:1:10 sites.__proto__: '__proto__' cannot be a site's name; write another",
    ]);
  });
});
