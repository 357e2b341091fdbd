import { describe, expect, it } from "vitest";
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
    ["04/05/2026 03:12:20", "must say 2026-05-04T03:12:20Z"],
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
