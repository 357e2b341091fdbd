import { describe, expect, it } from "vitest";
import { typedTime } from "../../src/dashboard/typed-time.ts";
import { iso } from "../../src/terms/time.ts";

const night = Date.parse("2026-05-04T03:12:20Z");
const typed = (text: string, timezone = "UTC") => {
  const timeMs = typedTime(text, night, timezone);
  return timeMs === undefined ? undefined : iso(timeMs);
};

describe("a time as a person types it", () => {
  it("without a date is on the local day of what is shown: it is still the 3rd in Chicago", () => {
    expect(typed("14:30")).toBe("2026-05-04T14:30:00.000Z");
    expect(typed("14:30", "America/Chicago")).toBe("2026-05-03T19:30:00.000Z");
    expect(typed(" 4:05:06 ")).toBe("2026-05-04T04:05:06.000Z");
  });

  it("with a date is in the fleet's zone, and with an offset wherever it says", () => {
    expect(typed("2026-05-01 6:00", "America/Chicago")).toBe("2026-05-01T11:00:00.000Z");
    expect(typed("2026-05-01T06:00:30", "America/Chicago")).toBe("2026-05-01T11:00:30.000Z");
    expect(typed("2026-05-01T06:00:00+02:00", "America/Chicago")).toBe("2026-05-01T04:00:00.000Z");
  });

  it("in the hour that comes twice means its first pass", () => {
    expect(typed("2026-11-01 01:30", "America/Chicago")).toBe("2026-11-01T06:30:00.000Z");
  });

  it.each(["", "noon", "24:00", "3:99", "2026-02-30 12:00", "2026-05-04", "14"])("'%s' is none", (text) => {
    expect(typed(text)).toBeUndefined();
  });
});
