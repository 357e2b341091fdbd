import { mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { heldAgainst, heldPriorities } from "../../src/assess/standards.ts";
import { openMetrics, replaceFile } from "../../src/collector/metrics.ts";
import { day, hour } from "../../src/terms/time.ts";
import { fleetView, nightMs, unit } from "../dashboard/fixture.ts";
import { performance, told, word } from "../support/lives.ts";

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
  const figures = performance([told(nightMs - hour)], [], nightMs - day, nightMs);
  const held = { ...figures, held: heldAgainst(figures), priorities: heldPriorities(figures) };
  const whole = openMetrics(view, [held, held]);
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

it("the alarms' figures stand by window; of a window of which nothing is known there are none", () => {
  const toMs = nightMs;
  const events = [
    told(toMs - 3 * hour, "raised", { priority: "high" }),
    told(toMs - 2 * hour, "raised", { unit: "LM-02" }),
  ];
  const words = [word(toMs - hour, "acknowledge", { unit: "LM-02", raisedMs: toMs - 2 * hour })];
  const whole = performance(events, words, toMs - day, toMs);
  const figures = { ...whole, held: heldAgainst(whole), priorities: heldPriorities(whole) };
  const text = openMetrics(fleetView(1), [figures, null]);
  const lines = text.split("\n");
  expect(lines).toContain('tarnwatch_announced_alarms{window="24h"} 2');
  expect(lines).toContain('tarnwatch_priority_ratio{window="24h",priority="medium"} 0.5');
  expect(lines).toContain(
    'tarnwatch_time_to_acknowledge_seconds{window="24h",priority="medium",part="0.5"} 3600',
  );
  expect(lines).toContain('tarnwatch_unacknowledged_alarms{window="24h",priority="high"} 1');
  expect(lines).toContain('tarnwatch_standing_alarms{priority="high"} 1');
  expect(text).not.toContain("30d");
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
