import { existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CannotWork } from "../../src/commands/context.ts";
import { openWhole, writeWhole } from "../../src/commands/whole-file.ts";
import { folderWith } from "../support/program.ts";

describe("a file that is there whole or not at all", () => {
  it("is written piece by piece, and is there once it is kept", () => {
    const path = join(folderWith({}), "a.csv");
    const lines = Array.from({ length: 9000 }, (_, i) => `${i},Großer Teich\r\n`);
    const file = openWhole(path);
    for (let at = 0; at < lines.length; at += 3000) file.write(lines.slice(at, at + 3000));
    expect(existsSync(path)).toBe(false);
    file.keep();
    file.drop();
    expect(readFileSync(path, "utf8")).toBe(lines.join(""));
  });

  it("leaves what was there, and no piece of its own, where it is dropped or cannot be put in its place", () => {
    const folder = folderWith({ "a.csv": "before" });
    const file = openWhole(join(folder, "a.csv"));
    file.write(["after"]);
    file.drop();
    mkdirSync(join(folder, "taken"));
    expect(() => writeWhole(join(folder, "taken"), ["text"])).toThrow(CannotWork);
    expect(readFileSync(join(folder, "a.csv"), "utf8")).toBe("before");
    expect(readdirSync(folder).toSorted()).toEqual(["a.csv", "taken"]);
  });
});
