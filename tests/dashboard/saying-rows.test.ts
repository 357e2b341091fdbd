import { describe, expect, test } from "vitest";
import { ascii } from "../../src/dashboard/ascii.ts";
import { textOf } from "../../src/dashboard/line.ts";
import { actions, prepare } from "../../src/dashboard/saying/actions.ts";
import { askingRows, typingRows } from "../../src/dashboard/saying/panel.ts";
import { unitLayout } from "../../src/dashboard/unit-screen.ts";
import { drawn, widths } from "./draw.ts";
import { nightMs, shownPast } from "./fixture.ts";
import { keptFleet } from "./people.ts";

const view = keptFleet();
const [, , unit] = view.units;
const speaking = { view, unit, by: "Ann" };
const minute = 60_000;

describe.each([
  [80, 24],
  [60, 15],
])("on %i × %i", (width, height) => {
  test.each(["", "s", "shelve ", "shelve lost-prime 2h ".padEnd(240, "x"), "begin "])("'%s' fits", (text) => {
    const rows = typingRows(text, "a shelving has an end; write how long", speaking, width, height);
    expect(rows.length).toBeLessThanOrEqual(height - 5);
    expect(textOf(rows.at(-1) ?? [])).toMatch(/^ Ann says: .*_$/);
    expect(Math.max(...widths(rows.slice(-1)))).toBeLessThanOrEqual(width);
  });

  test.each(["acknowledge site", "shelve all 2h", "out-of-service all", "plan now 2h pond drained"])(
    "what '%s' asks is shown in full, and what confirms it",
    (text) => {
      const prepared = prepare(text, speaking);
      if ("problem" in prepared) throw new Error(prepared.problem);
      const rows = askingRows(prepared, width);
      expect(rows.length).toBeLessThan(height - 4);
      expect(Math.max(...widths(rows))).toBeLessThanOrEqual(width);
      const shown = drawn(rows, width).join(" ").replace(/\s+/g, " ");
      expect(shown).toContain(prepared.what);
      expect(shown).toContain(prepared.asks);
      expect(shown).toContain("c confirms it · any other key leaves it unsaid");
      expect(ascii(shown)).toMatch(/^[ -~]*$/);
    },
  );
});

test("every action stands in the list of 80 columns in full, and none is told by colour alone", () => {
  const rows = drawn(typingRows("", null, speaking, 80, 24));
  for (const { name, needs, does } of actions)
    expect(rows.map((row) => row.replace(/\s+/g, " "))).toContain(` ${name} ${needs} ${does}`);
  expect(drawn(typingRows("acknowledge ", null, speaking, 80, 24)).join("\n")).toContain(
    "■ high  Lost prime: active",
  );
});

test("the unit's screen tells what people do there, and what they have set aside that does not stand", () => {
  const by = { by: "Ben", atMs: nightMs - 5 * minute };
  const shown = {
    ...unit,
    begun: [
      {
        unit: unit.id,
        work: "cleaning" as const,
        step: "begin" as const,
        ...by,
        untilMs: nightMs + 60 * minute,
      },
    ],
    setAside: (["cavitation", "sensor-fault", "lost-prime"] as const).map((alarm) => ({
      alarm,
      state: "shelved" as const,
      ...by,
      untilMs: nightMs + 30 * minute,
      note: "gauge ordered",
    })),
  };
  const { lines } = unitLayout(shown, view, shownPast(null), 0, true, 80, 24);
  const text = drawn(lines).join("\n").replace(/\s+/g, " ");
  expect(text).toContain("cleaning by Ben since 03:07, ends by itself at 04:12");
  expect(text).toContain("shelved by Ben at 03:07 until 03:42 (gauge ordered): cavitation, sensor-fault");
});
