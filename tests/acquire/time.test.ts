import { describe, expect, it } from "vitest";
import { dateOrderOf } from "../../src/acquire/date-order.ts";
import { newTimeMemory, readTime, timeForm, whyNoTime } from "../../src/acquire/time.ts";
import { zoneReader } from "../../src/acquire/zone.ts";

const utc = zoneReader("UTC");

function read(text: string, timezone = "UTC"): string | null {
  const ms = readTime(text, timezone === "UTC" ? utc : zoneReader(timezone), newTimeMemory());
  return Number.isNaN(ms) ? null : new Date(ms).toISOString();
}

function readSeries(timezone: string, texts: readonly string[]): (string | null)[] {
  const zone = zoneReader(timezone);
  const memory = newTimeMemory();
  return texts.map((text) => {
    const ms = readTime(text, zone, memory);
    return Number.isNaN(ms) ? null : new Date(ms).toISOString();
  });
}

describe("times with an offset", () => {
  it.each([
    // RFC 3339 (2002), section 5.8.
    ["1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.520Z"],
    ["1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57.000Z"],
    ["1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.870Z"],
    // RFC 3339, section 5.6: "T" and "Z" may be lower case, a space may stand for "T".
    ["1985-04-12t23:20:50z", "1985-04-12T23:20:50.000Z"],
    ["1985-04-12 23:20:50+01:00", "1985-04-12T22:20:50.000Z"],
    // RFC 3339, section 4.3: −00:00 is UTC whose local offset nobody knows.
    ["2026-05-04T03:12:20-00:00", "2026-05-04T03:12:20.000Z"],
    ["2024-02-29T00:00:00Z", "2024-02-29T00:00:00.000Z"],
    ["2026-05-04T03:12:20.123999Z", "2026-05-04T03:12:20.123Z"],
  ])("reads %s", (text, instant) => {
    expect(read(text)).toBe(instant);
  });

  it.each([
    ["2026-13-01T00:00:00Z", "there is no such day"],
    ["2026-02-30T00:00:00Z", "there is no such day"],
    ["2026-02-29 00:00:00", "there is no such day"],
    ["2026-00-10T00:00:00Z", "there is no such day"],
    ["2026-05-04T24:00:00Z", "the clock has no such time"],
    ["2026-05-04T03:60:00Z", "the clock has no such time"],
    ["2026-05-04T03:12:20+24:00", "there is no such offset"],
    ["2026-05-04T03:12:20+01:60", "there is no such offset"],
    ["2026-05-04T03:12", "must say 2026-05-04T03:12:20Z"],
    ["04/05/2026 03:12:20", "slashes do not tell day from month; write columns: { time_format: DD/MM/YYYY }"],
    ["31.02.2026 03:12:20", "there is no such day"],
    ["24.11.2026 24:00:00", "the clock has no such time"],
    ["24.11.2026", "must say 2026-05-04T03:12:20Z"],
    ["2026-W19-1", "must say 2026-05-04T03:12:20Z"],
    ["noon", "must say 2026-05-04T03:12:20Z"],
    ["2026-05-04T03:12:60Z", "only at the end of a UTC day"],
  ])("refuses %s and says why", (text, why) => {
    expect(read(text)).toBeNull();
    expect(whyNoTime(text, utc, "UTC")).toContain(why);
  });

  it("reads a leap second as the last moment before midnight, so that it stays before the next second", () => {
    // RFC 3339, section 5.8: both are the leap second at the end of 1990.
    expect(read("1990-12-31T23:59:60Z")).toBe("1990-12-31T23:59:59.999Z");
    expect(read("1990-12-31T15:59:60-08:00")).toBe("1990-12-31T23:59:59.999Z");
  });
});

describe("times without an offset", () => {
  // Instants from the IANA time zone database; "gap" and "fold" as in PEP 495 (2015).
  it.each([
    ["2024-03-10 01:59:59", "2024-03-10T06:59:59.000Z"],
    ["2024-03-10 02:30:00", null],
    ["2024-03-10 03:00:00", "2024-03-10T07:00:00.000Z"],
    ["2024-11-03 01:30:00", "2024-11-03T05:30:00.000Z"],
    ["2024-11-03T02:00:00", "2024-11-03T07:00:00.000Z"],
    ["2024-07-01 12:00:00.250", "2024-07-01T16:00:00.250Z"],
  ])("reads %s in New York", (text, instant) => {
    expect(read(text, "America/New_York")).toBe(instant);
  });

  it("says that clocks skipped an hour that does not exist", () => {
    const zone = zoneReader("America/New_York");
    expect(whyNoTime("2024-03-10 02:30:00", zone, "America/New_York")).toBe(
      "'2024-03-10 02:30:00' is not a time: clocks in America/New_York skipped it",
    );
  });

  it("reads the repeated hour as its first pass until times step back, then as its second", () => {
    expect(
      readSeries("America/New_York", [
        "2024-11-03 01:00:00",
        "2024-11-03 01:59:50",
        "2024-11-03 01:00:00",
        "2024-11-03 01:59:50",
        "2024-11-03 02:00:00",
      ]),
    ).toEqual([
      "2024-11-03T05:00:00.000Z",
      "2024-11-03T05:59:50.000Z",
      "2024-11-03T06:00:00.000Z",
      "2024-11-03T06:59:50.000Z",
      "2024-11-03T07:00:00.000Z",
    ]);
  });

  it("does not take a repeated row for a step back", () => {
    expect(readSeries("America/New_York", ["2024-11-03 01:30:00", "2024-11-03 01:30:00"])).toEqual([
      "2024-11-03T05:30:00.000Z",
      "2024-11-03T05:30:00.000Z",
    ]);
  });

  it("knows that Lord Howe's clocks repeat half an hour only", () => {
    expect(
      readSeries("Australia/Lord_Howe", [
        "2024-04-07 01:29:00",
        "2024-04-07 01:45:00",
        "2024-04-07 01:31:00",
        "2024-04-07 01:45:00",
        "2024-04-07 02:00:00",
      ]),
    ).toEqual([
      "2024-04-06T14:29:00.000Z",
      "2024-04-06T14:45:00.000Z",
      "2024-04-06T15:01:00.000Z",
      "2024-04-06T15:15:00.000Z",
      "2024-04-06T15:30:00.000Z",
    ]);
  });

  it("keeps reading right across many changes of the clocks", () => {
    const texts = ["2023-12-01", "2024-07-01", "2025-01-01", "2025-07-01", "1990-01-01"].map(
      (d) => `${d} 12:00:00`,
    );
    expect(readSeries("America/New_York", texts)).toEqual([
      "2023-12-01T17:00:00.000Z",
      "2024-07-01T16:00:00.000Z",
      "2025-01-01T17:00:00.000Z",
      "2025-07-01T16:00:00.000Z",
      "1990-01-01T17:00:00.000Z",
    ]);
  });
});

describe("times whose date does not begin with the year", () => {
  // Dots part a date day first: DIN 1355-1 (1975) and the locale data of CLDR for German, from memory.
  it.each([
    ["24.11.2026 03:10:00", "2026-11-24T03:10:00.000Z"],
    ["24.11.26 03:10", "2026-11-24T03:10:00.000Z"],
    ["4.5.2026, 3:10:00,25", "2026-05-04T03:10:00.250Z"],
    ["2026/05/04 03:12:20", "2026-05-04T03:12:20.000Z"],
  ])("reads %s", (text, instant) => {
    expect(read(text)).toBe(instant);
    expect(timeForm(text)).toBe("local");
  });

  it("reads slashes only in the order that the fleet file tells", () => {
    const as = (text: string, order: "DD/MM/YYYY" | "MM/DD/YYYY") => {
      const ms = readTime(text, utc, newTimeMemory(), order);
      return Number.isNaN(ms) ? whyNoTime(text, utc, "UTC", order) : new Date(ms).toISOString();
    };
    expect(as("04/05/2026 03:12:20", "DD/MM/YYYY")).toBe("2026-05-04T03:12:20.000Z");
    expect(as("04/05/2026 03:12:20", "MM/DD/YYYY")).toBe("2026-04-05T03:12:20.000Z");
    expect(as("4/5/2026 12:12:20 AM", "MM/DD/YYYY")).toBe("2026-04-05T00:12:20.000Z");
    expect(as("4/5/26 3:12 pm", "MM/DD/YYYY")).toBe("2026-04-05T15:12:00.000Z");
    expect(as("24/11/2026 03:12", "MM/DD/YYYY")).toContain("no such day as MM/DD/YYYY");
    expect(as("04/05/2026 13:12 PM", "MM/DD/YYYY")).toContain("the clock has no such time");
  });

  it("takes them as local, through the hours that clocks repeat and skip", () => {
    const texts = ["03.11.2024 01:30:00", "03.11.2024 01:10:00", "10.03.2024 02:30:00"];
    expect(readSeries("America/New_York", texts)).toEqual([
      "2024-11-03T05:30:00.000Z",
      "2024-11-03T06:10:00.000Z",
      null,
    ]);
    const zone = zoneReader("America/New_York");
    expect(whyNoTime("10.03.2024 02:30:00", zone, "America/New_York")).toContain("skipped it");
  });
});

describe("the order of day and month in a log's dates with slashes", () => {
  const guess = (...cells: string[]) => dateOrderOf(cells, utc);

  it("is told by a number past 12, or else by rows that would lie months apart", () => {
    expect(guess("04/05/2026 03:10:00", "24/05/2026 03:10:00")).toMatchObject({
      order: "DD/MM/YYYY",
      unsure: false,
    });
    expect(guess("05/24/2026 03:10:00")).toMatchObject({ order: "MM/DD/YYYY", unsure: false });
    const midnight = ["04/05/2026 23:59:50", "04/06/2026 00:00:00"] as const;
    expect(guess(...midnight)).toMatchObject({ order: "MM/DD/YYYY", unsure: false });
    // Beginning, middle and end of two months from 6 May on: day first they would be 5 June, 6 May and 7 June.
    const twoMonths = ["05/06/2026 08:00", "06/05/2026 08:00", "07/06/2026 08:00"];
    for (const rows of [twoMonths, twoMonths.toReversed()])
      expect(guess(...rows)).toMatchObject({ order: "MM/DD/YYYY", unsure: false });
  });

  it("is left open where nothing tells it: the day first by custom, the month with a clock of 12 hours", () => {
    expect(guess("04/05/2026 03:10:00")).toMatchObject({ order: "DD/MM/YYYY", unsure: true });
    expect(guess("04/05/2026 03:10:00 PM")).toMatchObject({ order: "MM/DD/YYYY", unsure: true });
    expect(guess("04.05.2026 03:10:00")).toBeUndefined();
  });
});

describe("Unix times", () => {
  it.each([
    ["1777864340", "2026-05-04T03:12:20.000Z"],
    ["1777864340.5", "2026-05-04T03:12:20.500Z"],
    ["1777864340,5", "2026-05-04T03:12:20.500Z"],
    ["1777864340500", "2026-05-04T03:12:20.500Z"],
    ["99999999999", "5138-11-16T09:46:39.000Z"],
    ["100000000000", "1973-03-03T09:46:40.000Z"],
  ])("reads %s", (text, instant) => {
    expect(read(text)).toBe(instant);
  });

  it("tells the forms apart", () => {
    expect(timeForm("2026-05-04T03:12:20Z")).toBe("with offset");
    expect(timeForm("2026-05-04 03:12:20")).toBe("local");
    expect(timeForm("1777864340")).toBe("Unix seconds");
    expect(timeForm("1777864340500")).toBe("Unix milliseconds");
    expect(timeForm("noon")).toBeUndefined();
  });
});
