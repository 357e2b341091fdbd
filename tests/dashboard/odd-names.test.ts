import fc from "fast-check";
import { expect, test } from "vitest";
import { commonCausesOf } from "../../src/collector/common-causes.ts";
import { firstRows } from "../../src/dashboard/first-frame.ts";
import { fleetScreen } from "../../src/dashboard/fleet-screen.ts";
import { helpLines } from "../../src/dashboard/help.ts";
import { helpScreen } from "../../src/dashboard/help-screen.ts";
import { fitted, type Line, lineWidth, textOf } from "../../src/dashboard/line.ts";
import { linearText } from "../../src/dashboard/linear/linear-text.ts";
import { performanceRows, performanceScreen } from "../../src/dashboard/performance-screen.ts";
import { roundLayout } from "../../src/dashboard/round/round-layout.ts";
import { orders } from "../../src/dashboard/round/use-round.ts";
import { prepare } from "../../src/dashboard/saying/actions.ts";
import { askingRows, strongly, typingRows } from "../../src/dashboard/saying/panel.ts";
import { typedOn } from "../../src/dashboard/saying/typed-line.ts";
import { dataSheet } from "../../src/dashboard/sheets/data-sheet.ts";
import { historySheet } from "../../src/dashboard/sheets/history-sheet.ts";
import { serviceSheet } from "../../src/dashboard/sheets/service-sheet.ts";
import { laidOut } from "../../src/dashboard/sheets/sheet-layout.ts";
import { firstSheetPlace } from "../../src/dashboard/sheets/sheet-place.ts";
import { sheetScreen } from "../../src/dashboard/sheets/sheet-screen.ts";
import { standingSheet } from "../../src/dashboard/sheets/standing-sheet.ts";
import { unitLayout, unitScreen } from "../../src/dashboard/unit-screen.ts";
import { alarm, fleetView, history, lostPrime, nightMs, shownPast, unit } from "./fixture.ts";

/** Wide, joined, turning, hidden, combining, controlling and long. */
const odd = [
  "深い池",
  "🐟-1",
  "👩\u200d👩\u200d👧 pond",
  "\u202eLM\u2066\u202c",
  "a\u200bb\u200d\ufeff",
  "\u001b[31m\u001b[2J\u0007",
  "\r\n\t\u009b",
  "e\u0301e\u0301",
  "池".repeat(60),
] as const;
const name = fc.oneof(fc.constantFrom(...odd), fc.string({ unit: "binary", minLength: 1, maxLength: 20 }));
const size = fc.constantFrom([60, 15] as const, [80, 24] as const, [160, 50] as const);

interface Names {
  readonly id: string;
  readonly site: string;
  readonly by: string;
  readonly text: string;
}

function named({ id, site, by, text }: Names) {
  const said = { by, atMs: nightMs - 60_000, note: text };
  const stale = alarm({ alarm: "readings-stale", message: text });
  const units = [
    {
      ...lostPrime,
      id,
      site,
      setAside: [{ alarm: "cavitation" as const, state: "shelved" as const, ...said }],
    },
    unit(`${id}-2`, { site, problem: text, alarms: [{ ...stale, acknowledged: said, noted: said }] }),
    unit(`${id}-3`, { site, alarms: [stale], notes: [{ alarm: "all", ...said }] }),
    unit(`${id}-4`, {
      site,
      alarms: [stale],
      begun: [{ unit: id, work: "cleaning", step: "begin", ...said }],
    }),
  ];
  return fleetView(0, {
    units,
    fleet: site,
    stateFolder: `/${text}`,
    notices: [text],
    ...commonCausesOf(units),
  });
}

/** Every screen, each of which fills the window, and what is laid over its last rows. */
function screens(names: Names, width: number, height: number) {
  const view = named(names);
  const [first] = view.units;
  if (first === undefined) throw new Error("the fleet has units");
  const { id, by, text } = names;
  const entry = {
    timeMs: nightMs,
    unit: id,
    isWord: true,
    n: 1,
    alarm: "lost-prime",
    event: "noted",
  } as const;
  const read = {
    entries: [{ ...entry, priority: undefined, message: undefined, word: { by, note: text } }],
    more: false,
    sinceMs: nightMs,
    untilMs: nightMs,
    problem: null,
    isReading: false,
  };
  const sheets = [
    standingSheet(view, width),
    serviceSheet(view, width),
    dataSheet(view, width),
    historySheet(read, 0, 1, view, width),
  ];
  const past = shownPast(history(view, id, nightMs - 3_600_000, nightMs, 100));
  const layout = unitLayout(first, view, past, 0, true, width, height);
  const speaking = { view, unit: first, by };
  const asked = prepare("acknowledge site", speaking);
  const whole: readonly (readonly Line[])[] = [
    ...orders.map((order) =>
      fleetScreen(view, roundLayout(view, order, width), { order, filter: text }, null, 0, 0, width, height),
    ),
    ...[0, 20, 999].map((top) => unitScreen(layout, view, top, width, height)),
    helpScreen(helpLines(view, width), view, 0, 0, width, height),
    performanceScreen(
      performanceRows({ figures: null, problem: text }, 1, "UTC", width),
      view,
      { window: 1, top: 0 },
      0,
      width,
      height,
    ),
    ...sheets.map((sheet) => {
      const placed = laidOut(sheet, "", () => names.site, width);
      const place = firstSheetPlace("standing", { screen: "fleet", unit: null, unitTop: 0 });
      return sheetScreen(sheet, placed, place, text, view, 0, width, height);
    }),
  ];
  const over: readonly (readonly Line[])[] = [
    typingRows(typedOn("", text), null, speaking, width, height),
    typingRows("acknowledge ", text, speaking, width, height),
    "problem" in asked ? strongly(asked.problem, width) : askingRows(asked, width),
    strongly(`${id}: noted by ${by}`, width),
    firstRows(view.fleet, 4, undefined, width),
  ];
  return { whole, over };
}

test("whatever units, sites, people and remarks are called, each view fills its rows and columns and sends no control character", () => {
  const names = fc.record({ id: name, site: name, by: name, text: name });
  fc.assert(
    fc.property(names, size, (called, [width, height]) => {
      const { whole, over } = screens(called, width, height);
      for (const rows of whole) expect(rows).toHaveLength(height);
      for (const row of [...whole, ...over].flat()) {
        const shown = fitted(row, width);
        expect(lineWidth(shown)).toBe(width);
        expect(textOf(shown) + linearText(row)).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u);
      }
    }),
    {
      numRuns: 40,
      examples: odd.map((one): [Names, readonly [80, 24]] => [
        { id: one, site: one, by: one, text: one },
        [80, 24],
      ]),
    },
  );
});
