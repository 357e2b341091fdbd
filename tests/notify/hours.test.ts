import { describe, expect, it } from "vitest";
import type { Rota } from "../../src/fleet/notify.ts";
import { isWithin, mustWait, onCall, waysOf } from "../../src/notify/hours.ts";

/** A wall clock's time. 4 May 2026 is a Monday. */
const at = (text: string) => Date.parse(`${text}Z`);
const nights = [{ from: 18 * 60, to: 8 * 60 }];

describe("hours", () => {
  it("hold from their first minute up to their last, and may pass midnight", () => {
    expect(isWithin(nights, at("2026-05-04T17:59"))).toBe(false);
    expect(isWithin(nights, at("2026-05-04T18:00"))).toBe(true);
    expect(isWithin(nights, at("2026-05-05T07:59"))).toBe(true);
    expect(isWithin(nights, at("2026-05-05T08:00"))).toBe(false);
    expect(isWithin([{ from: 0, to: 24 * 60 }], at("1969-12-31T23:59"))).toBe(true);
  });

  it("keep medium alarms to the quiet hours' end, and prompts to the morning whatever they are", () => {
    const quiet = [{ from: 23 * 60, to: 6 * 60 }];
    expect(mustWait("high", quiet, at("2026-05-04T03:12"))).toBe(false);
    expect(mustWait("medium", quiet, at("2026-05-04T05:59"))).toBe(true);
    expect(mustWait("medium", quiet, at("2026-05-04T06:00"))).toBe(false);
    expect(mustWait("prompt", quiet, at("2026-05-04T06:30"))).toBe(true);
    expect(mustWait("prompt", quiet, at("2026-05-04T07:00"))).toBe(false);
  });
});

describe("a rota", () => {
  const rota: Rota = {
    name: "on call",
    duties: [
      { way: "ben", fromDay: 20260506, untilDay: 20260507, hours: nights },
      { way: "ann", days: [1, 2, 3, 4, 5], hours: nights },
      { way: "cleo", days: [6, 0] },
    ],
  };

  it("gives a night to the day on which it begins", () => {
    expect(onCall(rota, at("2026-05-04T18:00"))).toBe("ann");
    expect(onCall(rota, at("2026-05-04T07:00"))).toBeUndefined();
    // The morning after Friday's night is still Friday's.
    expect(onCall(rota, at("2026-05-09T03:00"))).toBe("ann");
    expect(onCall(rota, at("2026-05-09T09:00"))).toBe("cleo");
    expect(onCall(rota, at("2026-05-06T05:00"))).toBe("ann");
    expect(onCall(rota, at("2026-05-06T19:00"))).toBe("ben");
    expect(onCall(rota, at("2026-05-08T05:00"))).toBe("ben");
    expect(onCall(rota, at("2026-05-08T19:00"))).toBe("ann");
  });

  it("with nobody on call sends a high alarm to everybody in it, and another to nobody", () => {
    const noon = at("2026-05-04T12:00");
    expect(waysOf(["on call"], { rotas: [rota] }, "high", noon)).toEqual(["ben", "ann", "cleo"]);
    expect(waysOf(["on call"], { rotas: [rota] }, "medium", noon)).toEqual([]);
    expect(waysOf(["office", "on call", "office"], { rotas: [rota] }, "medium", noon)).toEqual(["office"]);
  });
});
