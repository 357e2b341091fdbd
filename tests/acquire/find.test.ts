import { chmodSync, mkdirSync, symlinkSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import { findLogs } from "../../src/acquire/find.ts";
import type { Unit } from "../../src/fleet/unit.ts";
import { logFolder, unitWith, write } from "./workbench.ts";

async function find(names: readonly string[], units: Partial<Unit>[], prepare?: (folder: string) => void) {
  const folder = logFolder();
  for (const name of names) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    write(folder, name, "");
  }
  prepare?.(folder);
  const { files, problems, folderProblem } = await findLogs(unitWith(folder, { units }).fleet);
  const found = Object.fromEntries(
    [...files].map(([id, paths]) => [id, paths.map((p) => relative(folder, p))]),
  );
  return { folder, found, problems, folderProblem };
}

describe("a unit's logs by name", () => {
  it("are named the id, then a dot, dash, underscore or space, with the endings of CSV logs", async () => {
    const mine = ["U.CSV", "U 2026.csv", "U-a.csv.gz", "U.csv", "U.csv.1", "U.csv.12.gz", "U_b.csv"];
    const others = ["U2.csv", "U.txt", "U.csv.bak", "XU.csv", "U", "U.csv.gz.1", "u.csv", ".U.csv"];
    const { found } = await find([...mine, ...others], [{ id: "U" }]);
    expect([...(found.U ?? [])].sort()).toEqual([...mine].sort());
  });

  it("go to the longest id: U-1, U-10 and U-100 never mix", async () => {
    const { found } = await find(
      ["U-1.csv", "U-1-2026.csv", "U-10.csv", "U-10_a.csv.1", "U-100.csv", "U-1000.csv", "U-1-1.csv"],
      [{ id: "U-1" }, { id: "U-10" }, { id: "U-100" }, { id: "U-1-1" }],
    );
    expect(found).toEqual({
      "U-1": ["U-1-2026.csv", "U-1.csv"],
      "U-10": ["U-10.csv", "U-10_a.csv.1"],
      "U-100": ["U-100.csv"],
      "U-1-1": ["U-1-1.csv"],
    });
  });

  it("lie under a folder named the id too, whatever their names", async () => {
    const { found } = await find(
      [
        "U-1/2026-05-04.csv",
        "U-1/old/a.csv.gz",
        "U-1/notes.txt",
        "U-10/a.csv",
        "U-1/U-10.csv",
        "Heron Bend/U-1.csv",
      ],
      [{ id: "U-1" }, { id: "U-10" }],
    );
    expect(found).toEqual({
      "U-1": ["Heron Bend/U-1.csv", "U-1/2026-05-04.csv", "U-1/old/a.csv.gz"],
      "U-10": ["U-1/U-10.csv", "U-10/a.csv"],
    });
  });

  it("a unit without a log has a problem that says what to name it", async () => {
    const { folder, found, problems } = await find([], [{ id: "U" }]);
    expect(found).toEqual({ U: [] });
    expect(problems.get("U")).toBe(`no log in ${folder}; name it U.csv, or write a log key`);
  });
});

describe("a unit's logs by its log key", () => {
  it.each([
    ["a file", "pump.dat", ["pump.dat"]],
    ["a folder", "east", ["east/a.csv", "east/deep/b.csv.gz"]],
    ["a pattern", "p*.csv", ["p1.csv", "p2.csv"]],
    ["a pattern over folders", "**/b.csv.gz", ["east/deep/b.csv.gz"]],
    ["choices", "p{1,3}.csv", ["p1.csv"]],
  ])("%s", async (_, log, expected) => {
    const names = ["pump.dat", "east/a.csv", "east/deep/b.csv.gz", "east/x.txt", "p1.csv", "p2.csv", "q.csv"];
    const { found } = await find(names, [{ id: "U", log }]);
    expect(found.U).toEqual(expected);
  });

  it("takes a file away from the unit whose id it bears", async () => {
    const { found } = await find(["V.csv"], [{ id: "U", log: "V.csv" }, { id: "V" }]);
    expect(found).toEqual({ U: ["V.csv"], V: [] });
  });

  it("two that share a file are an error for both", async () => {
    const { found, problems } = await find(
      ["a1.csv", "a2.csv"],
      [
        { id: "U", log: "a*.csv" },
        { id: "V", log: "a2.csv" },
        { id: "W", log: "a1.csv" },
      ],
    );
    expect(found).toEqual({ U: [], V: [], W: [] });
    expect(problems.get("V")).toBe(
      "its log key and that of U both take 'a2.csv'; write log keys that share no file",
    );
    expect([...problems.keys()].sort()).toEqual(["U", "V", "W"]);
  });

  it("that fits no file says so", async () => {
    const { folder, problems } = await find(["a.csv"], [{ id: "U", log: "b*.csv" }]);
    expect(problems.get("U")).toBe(`no file in ${folder} fits log: 'b*.csv'`);
  });
});

describe("nothing outside the log folder is read", () => {
  it.each([["../*.csv"], ["../secret.csv"], ["/etc/*"], ["x/../../secret.csv"]])("log: %s", async (log) => {
    const { found, problems } = await find(["in.csv"], [{ id: "U", log }]);
    expect(found.U).toEqual([]);
    expect(problems.get("U")).toContain("leaves the log folder");
  });

  it("a link that leads out is not followed, one that stays inside is", async () => {
    const outside = logFolder();
    write(outside, "U.csv", "");
    const { found } = await find(["real/x.csv"], [{ id: "U" }, { id: "V" }], (folder) => {
      symlinkSync(join(outside, "U.csv"), join(folder, "U.csv"));
      symlinkSync(outside, join(folder, "U"));
      symlinkSync(join(folder, "real", "x.csv"), join(folder, "V.csv"));
      symlinkSync(folder, join(folder, "round"));
      symlinkSync(join(folder, "nowhere"), join(folder, "V-2.csv"));
    });
    expect(found).toEqual({ U: [], V: ["V.csv"] });
  });

  it("a log that is a link that leads out is not read, and named as the reason", async () => {
    const outside = logFolder();
    write(outside, "U.csv", "");
    const { folder, found, problems } = await find(["V.csv"], [{ id: "U" }, { id: "W" }], (at) =>
      symlinkSync(join(outside, "U.csv"), join(at, "U.csv")),
    );
    expect(found).toEqual({ U: [], W: [] });
    expect(problems.get("U")).toBe(
      `no log in ${folder}; name it U.csv, or write a log key; 'U.csv' is a link that leads out of the log folder, and is not followed`,
    );
    expect(problems.get("W")).toBe(`no log in ${folder}; name it W.csv, or write a log key`);
  });

  it("nor is a link out that a log key names", async () => {
    const outside = logFolder();
    write(outside, "secret.csv", "");
    const { found, problems } = await find([], [{ id: "U", log: "today.csv" }], (at) =>
      symlinkSync(join(outside, "secret.csv"), join(at, "today.csv")),
    );
    expect(found.U).toEqual([]);
    expect(problems.get("U")).toContain("'today.csv' is a link that leads out of the log folder");
  });

  it("the log folder itself may be a link to wherever the logs are", async () => {
    const real = logFolder();
    write(real, "U.csv", "");
    const link = join(logFolder(), "logs");
    symlinkSync(real, link);
    const { files } = await findLogs(unitWith(link, { ids: ["U"] }).fleet);
    expect(files.get("U")).toEqual([join(link, "U.csv")]);
  });

  it.each(["A-store", "Z-store"])("a folder called %s is a unit's under a link's name", async (store) => {
    const { found } = await find(
      [`${store}/monday.csv`, "U-2/a.csv"],
      [{ id: "U-1" }, { id: "U-2" }],
      (at) => {
        symlinkSync(join(at, store), join(at, "U-1"));
        symlinkSync(join(at, "U-2"), join(at, "A-link"));
      },
    );
    expect(found).toEqual({ "U-1": ["U-1/monday.csv"], "U-2": ["U-2/a.csv"] });
  });

  it("a file under two names is taken once", async () => {
    const { found } = await find(["U.csv"], [{ id: "U" }], (folder) =>
      symlinkSync(join(folder, "U.csv"), join(folder, "U-latest.csv")),
    );
    expect(found.U).toEqual(["U-latest.csv"]);
  });
});

describe("a log folder that cannot be read", () => {
  it("is missing", async () => {
    const { folderProblem } = await findLogs(unitWith("/nowhere/at all").fleet);
    expect(folderProblem).toBe(
      "/nowhere/at all: there is no such log folder; make it, or write its path as logs: in the fleet file",
    );
  });

  it("is a file", async () => {
    const path = write(logFolder(), "logs", "");
    const { folderProblem } = await findLogs(unitWith(path).fleet);
    expect(folderProblem).toBe(
      `${path}: it is not a folder; write the folder that holds the logs as logs: in the fleet file`,
    );
  });

  it.skipIf(process.getuid?.() === 0)("may not be read by this user", async () => {
    const folder = logFolder();
    chmodSync(folder, 0);
    const { folderProblem } = await findLogs(unitWith(folder).fleet);
    chmodSync(folder, 0o700);
    expect(folderProblem).toBe(`${folder}: no permission to read the log folder; give this user read access`);
  });
});
