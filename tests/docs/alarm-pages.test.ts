import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { cautions } from "../../src/advise/cautions.ts";
import { causesOf } from "../../src/assess/causes.ts";
import { sharedCauses } from "../../src/assess/common-cause.ts";
import { ruleSettings } from "../../src/detect/rules.ts";
import { type AlarmName, alarmNames } from "../../src/terms/alarms.ts";
import { age } from "../../src/terms/time.ts";

const page = (name: string) => readFileSync(new URL(`../../docs/${name}`, import.meta.url), "utf8");
const settingsPage = page("settings.md");
const alarmsPage = page("alarms.md");
const judged = alarmNames.filter((alarm) => ruleSettings[alarm] !== undefined);

/** The cells of each row of the first table after a heading, without the heads. */
function table(text: string, heading: string): readonly (readonly string[])[] {
  const after = text.split(`\n## ${heading}\n`)[1]?.split("\n## ")[0] ?? "";
  const rows = /(?:^\|.*\n)+/m.exec(after)?.[0].trim().split("\n").slice(2) ?? [];
  return rows.map((row) =>
    row
      .slice(1, -1)
      .split("|")
      .map((cell) => cell.trim()),
  );
}

function schemaOf(alarm: AlarmName): z.ZodType {
  const schema = ruleSettings[alarm];
  if (schema === undefined) throw new Error(`${alarm} has no settings`);
  return schema;
}

function shapeOf(schema: z.ZodType): Readonly<Record<string, unknown>> {
  if (schema instanceof z.ZodPipe) return shapeOf(schema.in as z.ZodType);
  return (schema as z.ZodObject).shape;
}

/** The value that an alarm's rule takes where a setting is written as the page has it. */
function taken(alarm: AlarmName, setting: string, written: string | undefined): unknown {
  const given =
    written === undefined ? {} : { [setting]: /^[\d.]+$/.test(written) ? Number(written) : written };
  return (schemaOf(alarm).parse(given) as Record<string, unknown>)[setting];
}

describe("the page of settings", () => {
  it("has the alarms in their order", () => {
    const headings = [...settingsPage.matchAll(/^## (.+)$/gm)].map(([, name]) => name);
    expect(headings).toEqual(judged);
  });

  it.each(judged)("names every setting of %s with the default that its rule takes, and a reason", (alarm) => {
    const rows = table(settingsPage, alarm);
    const settings = Object.keys(shapeOf(schemaOf(alarm)));
    expect(rows.map(([name]) => name).toSorted()).toEqual(settings.map((name) => `\`${name}\``).toSorted());
    for (const [name, written, why] of rows) {
      const setting = name.replaceAll("`", "");
      const value = taken(alarm, setting, undefined);
      if (written === "–") expect(value, setting).toBeUndefined();
      else expect(taken(alarm, setting, written), `${setting}: ${written}`).toBe(value);
      expect(why.length, setting).toBeGreaterThan(3);
    }
  });
});

describe("the page of alarms", () => {
  it.each(alarmNames)("has %s in its list and under a heading of its own", (alarm) => {
    expect(table(alarmsPage, "The list").map(([link]) => link)).toContain(`[${alarm}](#${alarm})`);
    expect(alarmsPage).toContain(`\n## ${alarm}\n`);
  });

  it("tells which alarm is suppressed by which, as the program does it", () => {
    const told = table(alarmsPage, "Causes and consequences").map(([alarm, causes]) => [
      alarm,
      causes.split(", ").toSorted(),
    ]);
    const done = alarmNames
      .filter((alarm) => alarm !== "unusual-running" && causesOf(alarm).length > 0)
      .map((alarm) => [
        `\`${alarm}\``,
        causesOf(alarm)
          .map((cause) => `\`${cause}\``)
          .toSorted(),
      ]);
    expect(told).toEqual(done);
  });

  it("tells which alarms may have one cause over a site, which it is, and within which time", () => {
    const told = table(alarmsPage, "One cause over a site").flatMap(([alarms, likely, within]) =>
      alarms.split(", ").map((alarm) => [alarm.replaceAll("`", ""), likely, within]),
    );
    const done = Object.entries(sharedCauses).map(([alarm, { likely, withinMs }]) => [
      alarm,
      likely,
      age(withinMs),
    ]);
    expect(told.toSorted()).toEqual(done.toSorted());
  });

  it("has every caution of the trade, word for word", () => {
    const text = alarmsPage.replaceAll(/\s+/g, " ");
    for (const caution of Object.values(cautions)) expect(text).toContain(caution);
  });
});
