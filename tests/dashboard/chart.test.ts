import { describe, expect, test } from "vitest";
import type { UnitHistory } from "../../src/collector/fleet-view.ts";
import { alarmSpanLines, alarmSpans } from "../../src/dashboard/alarm-spans.ts";
import { textOf } from "../../src/dashboard/line.ts";
import { raster } from "../../src/dashboard/raster.ts";
import { channelStrip, gutter, stripChart } from "../../src/dashboard/strip-chart.ts";
import { ticksOf, timeAxis } from "../../src/dashboard/time-axis.ts";
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

describe("the time axis", () => {
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
