import { mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openMetrics, replaceFile } from "../../src/collector/metrics.ts";
import { fleetView, unit } from "../dashboard/fixture.ts";

// OpenMetrics 1.0.0, section 4.1, ABNF: the parts that a text without exemplars and timestamps uses.
const name = "[a-zA-Z_:][a-zA-Z0-9_:]*";
const text = '(?:[^"\\\\\\n]|\\\\[n"\\\\])*';
const label = `[a-zA-Z_][a-zA-Z0-9_]*="${text}"`;
const number = "[+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:e[+-]?\\d+)?";
const sample = new RegExp(`^(${name})(\\{(?:${label}(?:,${label})*)?\\})? ${number}$`, "i");
const descriptor = new RegExp(
  `^# (?:TYPE (${name}) (?:gauge|counter|stateset)|UNIT (${name}) [a-z]+|HELP (${name}) ${text})$`,
);

it("every line is one of the grammar's, families stand together, and the end is marked", () => {
  const odd = unit("LM-99", { problem: "none", lastReadingMs: null });
  const view = { ...fleetView(12), units: [...fleetView(12).units, odd] };
  const whole = openMetrics(view);
  expect(whole.endsWith("\n# EOF\n")).toBe(true);
  const lines = whole.slice(0, -"\n# EOF\n".length).split("\n");
  const seen: string[] = [];
  for (const line of lines) {
    const [, type, unitOf, help] = descriptor.exec(line) ?? [];
    const [, sampled] = sample.exec(line) ?? [];
    const family = type ?? unitOf ?? help ?? sampled?.replace(/_total$/, "");
    expect(family, line).toBeDefined();
    if (seen.at(-1) !== family) seen.push(family ?? "");
  }
  expect(new Set(seen).size).toBe(seen.length);
  expect(lines).toContain(
    'tarnwatch_alarm{unit="LM-03",alarm="lost-prime",priority="high",state="active-unacknowledged"} 1',
  );
  expect(lines).toContain('tarnwatch_unit_readable{unit="LM-99"} 0');
  expect(lines.some((line) => line.startsWith('tarnwatch_last_reading_age_seconds{unit="LM-99"'))).toBe(
    false,
  );
});

it("the file is put in place whole, and nothing else is left", () => {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-metrics-"));
  const path = join(folder, "fleet.prom");
  replaceFile(path, "one\n");
  replaceFile(path, "two\n");
  expect(readFileSync(path, "utf8")).toBe("two\n");
  expect(readdirSync(folder)).toEqual(["fleet.prom"]);
  expect(() => replaceFile(join(folder, "none", "x"), "")).toThrow("ENOENT");
});
