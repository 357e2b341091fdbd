import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { definitions } from "../../src/report/definitions.ts";

const page = readFileSync(new URL("../../docs/report.md", import.meta.url), "utf8");

it.each(definitions)("the manual defines %s as the report itself does", (term, meaning) => {
  const row = page.split("\n").find((line) => line.startsWith(`| ${term} `));
  expect(row?.split("|")[2]?.trim()).toBe(meaning);
});
