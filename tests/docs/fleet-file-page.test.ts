import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { ruleSettings } from "../../src/detect/rules.ts";
import { keyPaths } from "../../src/fleet/schema.ts";
import { defaultsSchema } from "../../src/fleet/unit-schema.ts";

const page = readFileSync(new URL("../../docs/fleet-file.md", import.meta.url), "utf8");
/** Told of by pages of their own: the alarms' settings, and the channels of a log. */
const elsewhere = ["limits", "columns", "commissioning"];
const keys = keyPaths(defaultsSchema(ruleSettings)).filter(
  (path) => path.length === 1 || !elsewhere.includes(path[0]),
);

it.each(keys.map((path) => [path.join(".")]))("the page of the fleet file has the key %s", (path) => {
  const names = path.split(".");
  const rows = page.split("\n").filter((line) => line.startsWith("| `"));
  expect(
    rows.some((row) => names.every((name) => new RegExp(`[\`{ ]${name}[\`:]`).test(row))),
    path,
  ).toBe(true);
});
