import { expect, it } from "vitest";
import { statusLine } from "../../src/commands/status-line.ts";
import { widthOf } from "../../src/dashboard/width.ts";
import { alarm, fleetView, unit } from "../dashboard/fixture.ts";

const of = (units: ReturnType<typeof unit>[], fleet = "Larkmoor ponds") =>
  statusLine({ ...fleetView(0), units, fleet });

it("names the worst that stands, and counts the rest", () => {
  expect(
    of([
      unit("LM-01"),
      unit("LM-03", { alarms: [alarm(), alarm({ alarm: "ozone-off", priority: "medium" })] }),
      unit("LM-04", { alarms: [alarm({ alarm: "service-overdue", priority: "prompt" })] }),
    ]),
  ).toBe("Larkmoor ponds: 1 high, 1 medium, 1 quiet · LM-03 lost prime 12 min");
});

it("tells of a unit that cannot be read, and of nothing that is shelved or acknowledged away", () => {
  expect(of([unit("LM-01", { problem: "no log" })])).toBe("Larkmoor ponds: 1 cannot be read, 0 quiet");
  expect(of([unit("LM-01", { alarms: [alarm({ state: "shelved" })] })])).toBe("Larkmoor ponds: 1 quiet");
  expect(of([unit("LM-01", { alarms: [alarm({ state: "active-acknowledged" })] })])).toContain("1 high");
});

it("fits 80 columns, however long the names are", () => {
  const line = of([unit("U".repeat(40), { alarms: [alarm()] })], "池塘".repeat(40));
  expect(widthOf(line)).toBeLessThanOrEqual(80);
  expect(line).toContain("lost prime");
});
