import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { ruleSettings } from "../../src/detect/rules.ts";
import { fleetJsonSchema } from "../../src/fleet/fleet-json-schema.ts";
import { readFleet } from "../../src/fleet/read.ts";

interface Shown {
  readonly type?: string;
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Shown>>;
  readonly additionalProperties?: Shown | boolean;
  readonly items?: Shown;
}

const read = (name: string) => readFileSync(new URL(`../../docs/${name}`, import.meta.url), "utf8");
const page = read("fleet-file.md");
const schema = fleetJsonSchema(ruleSettings) as Shown;
const unit = schema.properties?.units.items?.properties ?? {};
const parts = ["motor", "pump", "piping", "generator", "gas", "supply", "water", "service"];
const keysIn = (shown: Shown | undefined): readonly string[] => Object.keys(shown?.properties ?? {});

describe("the schema for editors", () => {
  it("is the one in docs/; else run npm run docs:schema", () => {
    expect(JSON.parse(read("fleet.schema.json"))).toEqual(JSON.parse(JSON.stringify(schema)));
  });

  it("says of every key of the fleet and of a unit what it is for", () => {
    const told = { ...schema.properties, ...unit };
    expect(Object.keys(told).filter((key) => !told[key].description)).toEqual([]);
  });

  it("has examples that the program takes", () => {
    const examples = (keys: Readonly<Record<string, Shown>>) =>
      Object.fromEntries(
        Object.entries(keys).flatMap(([key, { examples: [example] = [undefined] }]) =>
          example === undefined ? [] : [[key, example]],
        ),
      );
    const written = {
      ...examples(schema.properties ?? {}),
      units: [
        {
          ...examples(unit),
          ...Object.fromEntries(parts.map((part) => [part, examples(unit[part].properties ?? {})])),
          id: "LM-01",
        },
      ],
    };
    const source = { path: "fleet.yaml", folder: "/ponds" };
    expect(readFleet(JSON.stringify(written), source, ruleSettings)).not.toHaveProperty("problems");
  });

  it("takes a quantity and a length of time as a number and as text, and only known keys", () => {
    expect(unit.motor.properties?.full_load_current.type).toEqual(["number", "string"]);
    expect(unit.sample_interval.type).toEqual(["number", "string"]);
    expect(schema.additionalProperties).toBe(false);
    expect(unit.motor.additionalProperties).toBe(false);
  });
});

describe("the page of the fleet file", () => {
  it("names every key that the program takes", () => {
    const sites = schema.properties?.sites.additionalProperties as Shown;
    const keys = [
      ...keysIn(schema),
      ...Object.keys(unit),
      ...parts.flatMap((part) => keysIn(unit[part])),
      ...keysIn(sites),
    ];
    expect(keys.filter((key) => !page.includes(`\`${key}\``))).toEqual([]);
  });

  it("names no key that it does not", () => {
    const known = new Set([...keysIn(schema), ...Object.keys(unit), "delay", "off_delay", "priority"]);
    const tables = ["The fleet", "A unit", "Accepted but not used yet"].map(
      (heading) => page.split(`\n## ${heading}\n`)[1]?.split("\n## ")[0] ?? "",
    );
    const rows = tables.flatMap((text) => [...text.matchAll(/^\| `(\w+)`(?: → `(\w+)`)?/gm)]);
    expect(rows.length).toBeGreaterThan(40);
    for (const [, key, inner] of rows) {
      const there =
        ["sites", "limits"].includes(key) || inner === undefined || inner in (unit[key].properties ?? {});
      expect([key, known.has(key) && there]).toEqual([key, true]);
    }
  });

  it("shows a fleet file that the program and the schema take", () => {
    const shown = /```yaml\n([\s\S]*?)```/.exec(page)?.[1] ?? "";
    expect(readFleet(shown, { path: "fleet.yaml", folder: "/ponds" }, ruleSettings)).toHaveProperty("fleet");
    for (const written of parse(shown).units) {
      expect(Object.keys(written).filter((key) => !(key in unit))).toEqual([]);
    }
  });
});
