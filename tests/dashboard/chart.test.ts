import { describe, expect, test } from "vitest";
import type { UnitHistory } from "../../src/collector/fleet-view.ts";
import { alarmSpanLines, alarmSpans } from "../../src/dashboard/alarm-spans.ts";
import { firstChartPlace } from "../../src/dashboard/chart-place.ts";
import { driftSection } from "../../src/dashboard/drift-section.ts";
import { textOf } from "../../src/dashboard/line.ts";
import { drawnWords } from "../../src/dashboard/past-words.ts";
import { raster } from "../../src/dashboard/raster.ts";
import { readAt } from "../../src/dashboard/reading-mark.ts";
import { serviceLines, serviceSpans } from "../../src/dashboard/service-spans.ts";
import { channelStrip, gutter, stripChart } from "../../src/dashboard/strip-chart.ts";
import { ticksOf, timeAxis } from "../../src/dashboard/time-axis.ts";
import { takeBack } from "../../src/fleet/services.ts";
import { alarm, nightMs, plainPast, reading, unit } from "./fixture.ts";

const hour = 3_600_000;
const past = (values: readonly number[], events: UnitHistory["events"] = []): UnitHistory => ({
  ...plainPast,
  unit: "A",
  fromMs: nightMs - 4 * hour,
  toMs: nightMs,
  timeMs: values.map((_, i) => nightMs - 4 * hour + ((i + 0.5) * 4 * hour) / values.length),
  signals: [{ channel: "motor_current", part: 0, low: values, high: values }],
  events,
});
const chart = (values: readonly number[], unicode = false, rows = 4) => {
  const history = past(values);
  const [signal] = history.signals;
  if (signal === undefined) throw new Error("no signal");
  const width = gutter + values.length / (unicode ? 2 : 1);
  return stripChart(
    history,
    channelStrip(
      signal,
      reading("motor_current", 5, { normal: null, limitLow: null, limitHigh: null }),
      "si",
    ),
    width,
    rows,
    unicode,
  ).map((row) => textOf(row).slice(gutter));
};

test("Braille's dots are where Unicode puts them", () => {
  // Unicode 15, chapter 21.1: dots 1 to 3 and 7 down the left, 4 to 6 and 8 down the right.
  const picture = raster(1, 1, true);
  picture.set(0, 3);
  picture.set(1, 0);
  expect(picture.rows()).toEqual(["⢁"]);
});

describe("a strip chart", () => {
  test("a step is one joined line", () => {
    expect(chart([1, 1, 4, 4])).toEqual(["  **", "  * ", "  * ", "*** "]);
  });

  test("where nothing was read there is a gap", () => {
    const rows = chart([1, Number.NaN, Number.NaN, 4]);
    expect(rows.every((row) => row.slice(1, 3) === "  ")).toBe(true);
  });

  test("a flat line is drawn, not divided by zero", () => {
    expect(chart([5, 5, 5, 5]).join("")).toContain("****");
  });

  test("the limit and the normal band are marked beside the scale", () => {
    const history = past([8, 9, 10, 11]);
    const [signal] = history.signals;
    if (signal === undefined) throw new Error("no signal");
    const rows = stripChart(
      history,
      channelStrip(signal, reading("motor_current", 9.2), "si"),
      gutter + 4,
      6,
      true,
    ).map(textOf);
    expect(rows[0]).toContain("11.3 ┤");
    expect(rows.filter((row) => row[gutter - 1] === "┃").length).toBeGreaterThan(0);
  });
});

describe("a mark", () => {
  const values = [1, 2, 3, 4, 5, Number.NaN, 7, 8];
  const marked = (column: number, heldMs = 30_000, rows = 3) => {
    const history = { ...past(values), heldMs };
    const [signal] = history.signals;
    if (signal === undefined) throw new Error("no signal");
    const none = reading("motor_current", 5, { normal: null, limitLow: null, limitHigh: null });
    const markMs = history.fromMs + (column + 0.5) * ((4 * hour) / 4);
    return stripChart(history, channelStrip(signal, none, "si"), gutter + 4, rows, true, markMs).map(textOf);
  };

  test("stands in its column, and beside the chart stands what was read there, lowest and highest", () => {
    const rows = marked(1);
    expect(rows.map((row) => row[gutter + 1])).toEqual(["│", "│", "│"]);
    expect(rows[1]?.slice(0, gutter)).toContain("3.0 to 4.0 A");
    expect(marked(1, 30_000, 2)[1]?.slice(0, gutter)).toContain("3.0 to 4.0 A");
  });

  test("where nothing was read it says so, but for the reading before as long as that counts", () => {
    const gap = { ...past([1, Number.NaN, Number.NaN, Number.NaN]) };
    const at = (heldMs: number) => readAt({ ...gap, heldMs }, gap.signals[0] ?? { low: [], high: [] }, 1, 4);
    expect(at(30_000)).toBeNull();
    expect(at(hour)).toEqual({ low: 1, high: 1 });
  });
});

test("readings that count until the next are one line, those further apart are not", () => {
  const drawn = (heldMs: number) => {
    const history = { ...past([1, Number.NaN, Number.NaN, 1]), heldMs };
    const [signal] = history.signals;
    if (signal === undefined) throw new Error("no signal");
    return stripChart(history, channelStrip(signal, undefined, "si"), gutter + 4, 1, false).map((row) =>
      textOf(row).slice(gutter),
    );
  };
  expect(drawn(3 * hour)).toEqual(["****"]);
  expect(drawn(30_000)).toEqual(["*  *"]);
});

describe("services", () => {
  const record = (work: "cleaning" | "repair", step: "begin" | "end" | "done", hours: number) => ({
    unit: "A",
    work,
    step,
    atMs: nightMs - hours * hour,
  });

  test("are drawn from begin to end, at the moment they were done, and to the chart's end while they go on", () => {
    const history = {
      ...past([1]),
      services: [
        record("repair", "begin", 9),
        record("repair", "end", 3.5),
        record("cleaning", "done", 2.5),
        record("repair", "begin", 1),
      ],
    };
    const rows = serviceLines(history, 8, gutter, 2, null).map((row) => textOf(row).slice(gutter));
    expect(rows).toEqual(["─◇    ◇─", "   ◇    "]);
  });

  test("one that was taken back is not drawn past that", () => {
    const begun = record("repair", "begin", 3);
    const history = { ...past([1]), services: [begun, takeBack(begun, nightMs - 2 * hour)] };
    expect(serviceSpans(history)).toEqual([
      { work: "repair", fromMs: nightMs - 3 * hour, toMs: nightMs - 2 * hour },
    ]);
  });
});

describe("the gas line's drift", () => {
  const day = 24 * hour;
  const drift = {
    channel: "gas_pressure" as const,
    clean: 30,
    limit: 40,
    points: [0, 1, 2, 3].map((days) => ({ timeMs: nightMs + (days - 3) * day, value: 30 + days })),
    forecast: {
      atMs: nightMs,
      value: 33,
      dueMs: nightMs + 7 * day,
      earliestMs: nightMs + 5 * day,
      latestMs: nightMs + 9 * day,
    },
  };
  const drawn = (over: Partial<typeof drift> = {}) => {
    const width = gutter + 60;
    const view = { display: "si" as const, timezone: "UTC", clockMs: nightMs + 4 * hour };
    return driftSection({ ...drift, ...over }, view, width, true).lines.map(textOf);
  };

  test("the forecast is a fan that reaches the limit between its dates, which are said", () => {
    const rows = drawn();
    expect(rows[0]).toMatch(/limit, kPa +40\.0 │/);
    expect(rows[5]).toMatch(/clean, kPa +30\.0 │/);
    // 12.7 days on 60 columns: the limit is reached after 8, 10 and 12 days of the axis.
    const solid = [...(rows[0] ?? "")].slice(gutter).map((cell) => !/[ ⠁⠈⠉]/.test(cell));
    const columnOf = (days: number) => Math.floor((days / (12 * 1.06)) * 60);
    for (const days of [8, 10, 12])
      expect(solid.slice(columnOf(days) - 3, columnOf(days) + 1)).toContain(true);
    expect(solid.slice(0, columnOf(6))).not.toContain(true);
    expect(rows.join(" ").replace(/\s+/g, " ")).toContain(
      "33.0 kPa last at like running, 08:12; 30.0 kPa when clean: it reaches 40.0 kPa, where cleaning is due, about 11 May (9 May to 13 May)",
    );
  });

  test("without a trend there is no fan, and past the limit that is said", () => {
    const words = (over = {}) =>
      drawn({ forecast: null as never, ...over })
        .join(" ")
        .replace(/\s+/g, " ");
    expect(words()).toContain("no trend towards its limit");
    expect(words({ points: drift.points.slice(0, 2) })).toContain(
      "31.0 kPa last at like running, 2 May 08:12; 30.0 kPa when clean: too few days yet to tell a trend",
    );
    const past = [{ timeMs: nightMs, value: 41 }];
    expect(words({ points: past })).toContain("past its limit of 40.0 kPa");
  });
});

describe("the time axis", () => {
  test("over many days ticks stand at local midnights, also across a change of the clocks", () => {
    // IANA zone America/New_York: 1 November 2026 has 25 hours.
    const fromMs = Date.UTC(2026, 9, 29, 12);
    const toMs = Date.UTC(2026, 10, 5, 12);
    const ticks = ticksOf(fromMs, toMs, 7 * 16, "America/New_York");
    expect(ticks.map(({ label }) => label)).toEqual([
      ...["30 Oct", "31 Oct", "1 Nov", "2 Nov", "3 Nov", "4 Nov", "5 Nov"],
    ]);
    // Hours after the beginning, at 1.5 h a column: 04:00Z until the change, 05:00Z after it.
    const hours = [16, 40, 64, 89, 113, 137, 161];
    expect(ticks.map(({ column }) => column)).toEqual(hours.map((each) => Math.floor(each / 1.5)));
  });

  test("ticks stand at round local times, also in a zone of half hours", () => {
    const labels = ticksOf(nightMs - 4 * hour, nightMs, 60, "Asia/Kolkata").map((tick) => tick.label);
    expect(labels).toEqual(["10:00", "11:00", "12:00", "13:00"]);
  });

  test("across the repeated hour of autumn the hour stands twice", () => {
    // IANA zone America/New_York, 3 November 2024: 05:30Z is 01:30 EDT, 06:30Z is 01:30 EST.
    const labels = ticksOf(
      Date.UTC(2024, 10, 3, 4, 30),
      Date.UTC(2024, 10, 3, 7, 30),
      60,
      "America/New_York",
    ).map((t) => t.label);
    expect(labels.filter((label) => label === "01:00")).toHaveLength(2);
  });

  test("a label stands at its tick", () => {
    const [ticks, labels] = timeAxis(nightMs - 4 * hour, nightMs, 60, 1, "UTC").map(textOf);
    const tick = ticks?.indexOf("┴", 8) ?? -1;
    expect(labels?.slice(tick - 2, tick + 3)).toMatch(/^\d\d:\d\d$/);
  });
});

describe("when alarms stood", () => {
  const event = (hours: number, kind: string) => ({
    timeMs: nightMs - hours * hour,
    alarm: "cavitation" as const,
    event: kind,
  });

  test("from raised to cleared", () => {
    const [only] = alarmSpans(unit("A"), past([1], [event(3, "raised"), event(2, "cleared")]));
    expect(only).toMatchObject({ alarm: "cavitation", fromMs: nightMs - 3 * hour, toMs: nightMs - 2 * hour });
  });

  test("one that was raised before the chart begins is drawn from its edge", () => {
    const [only] = alarmSpans(unit("A"), past([1], [event(9, "raised"), event(2, "cleared")]));
    expect(only).toMatchObject({ fromMs: nightMs - 9 * hour, toMs: nightMs - 2 * hour });
    const [row] = alarmSpanLines([...(only ? [only] : [])], past([1]), 8, gutter, 4).map(textOf);
    expect(row?.slice(gutter)).toBe("▬▬▬▬▬   ");
  });

  test("one that still stands is drawn to the end, once", () => {
    const standing = unit("A", { alarms: [alarm({ alarm: "cavitation", sinceMs: nightMs - hour })] });
    const spans = alarmSpans(standing, past([1], [event(1, "raised")]));
    expect(spans).toHaveLength(1);
    expect(spans[0]).toMatchObject({ fromMs: nightMs - hour, toMs: nightMs });
  });
});

describe("what the charts are drawn from", () => {
  const words = (over: Partial<UnitHistory>, isCurrent = true) => {
    const history = { ...past(new Array(240).fill(5)), ...over };
    const window = { fromMs: history.fromMs, toMs: history.toMs, points: 240 };
    const view = { clockMs: nightMs, timezone: "America/Chicago" };
    return drawnWords({ place: firstChartPlace, window, history, isCurrent }, 60_000, view);
  };
  const coarse = { coarsestMs: 600_000 };
  const gone = (file: string, fromHours: number, toHours: number) => ({
    file,
    why: "the log is gone",
    fromMs: nightMs - fromHours * hour,
    toMs: nightMs - toHours * hour,
  });

  test("is the readings themselves, where nothing is coarser than a column", () => {
    expect(words({})).toBe("a column is the lowest and highest of 1 min");
  });

  test("is summed up at first, and says that the logs are being read", () => {
    expect(words({ ...coarse, refinable: true })).toBe(
      "drawn from the lowest and highest of each 10 min · reading the logs …",
    );
  });

  test("stays coarse where a log is gone, and says between which times", () => {
    expect(words({ ...coarse, lacking: [gone("LM-01.csv.2", 4, 3), gone("LM-01.csv.1", 3, 2)] })).toBe(
      "drawn from the lowest and highest of each 10 min · " +
        "not to be refined between 3 May 23:12 and 01:12: LM-01.csv.2: the log is gone, and 1 more",
    );
  });

  test("stays coarse without a word on which log only where none is known that held it", () => {
    expect(words(coarse)).toBe(
      "drawn from the lowest and highest of each 10 min · not to be refined: the logs that are left do not hold it",
    );
  });
});
