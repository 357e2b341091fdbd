import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tellingOrder } from "../../src/assess/causes.ts";
import { eventLine, inOrder } from "../../src/collector/event-lines.ts";
import { type AlarmName, alarmNames } from "../../src/terms/alarms.ts";
import type { Finding } from "../../src/terms/events.ts";

const finding = (timeMs: number, alarm: AlarmName, more: Partial<Finding> = {}): Finding => ({
  timeMs,
  alarm,
  event: "raised",
  priority: "high",
  sinceMs: timeMs,
  message: "m",
  evidence: {},
  ...more,
});

const brief = (units: Parameters<typeof inOrder>[0]) =>
  inOrder(units).map(({ timeMs, unit, seq, alarm }) => `${timeMs} ${unit} ${seq} ${alarm}`);

describe("a fleet's events", () => {
  it("go by time, then units as in the fleet file, then the alarms' order", () => {
    expect(
      brief([
        {
          id: "B",
          findings: [finding(1, "overheating"), finding(2, "ozone-off"), finding(2, "lost-prime")],
        },
        { id: "A", findings: [finding(1, "lost-prime"), finding(2, "lost-prime")] },
      ]),
    ).toEqual([
      "1 B 1 overheating",
      "1 A 1 lost-prime",
      "2 B 2 lost-prime",
      "2 B 3 ozone-off",
      "2 A 2 lost-prime",
    ]);
  });

  it("are told causes first", () => {
    expect(tellingOrder["lost-prime"]).toBeLessThan(tellingOrder.overheating);
    expect(
      brief([{ id: "A", findings: [finding(5, "overheating"), finding(5, "lost-prime")] }]).map(
        (line) => line.split(" ")[3],
      ),
    ).toEqual(["lost-prime", "overheating"]);
  });

  it("keep the order of two of one alarm at one moment", () => {
    const cleared = finding(5, "lost-prime", { event: "cleared" });
    const events = inOrder([{ id: "A", findings: [cleared, finding(5, "lost-prime")] }]);
    expect(events.map(({ event }) => event)).toEqual(["cleared", "raised"]);
  });

  it("are counted from 1 for each unit, whatever comes between", () => {
    const findings = fc.array(
      fc.tuple(fc.nat(5), fc.constantFrom(...alarmNames)).map(([t, alarm]) => finding(t, alarm)),
    );
    fc.assert(
      fc.property(findings, findings, (a, b) => {
        const events = inOrder([
          { id: "A", findings: a },
          { id: "B", findings: b },
        ]);
        for (const unit of ["A", "B"]) {
          const seqs = events.filter((event) => event.unit === unit).map(({ seq }) => seq);
          expect(seqs).toEqual(seqs.map((_, i) => i + 1));
        }
        const times = events.map(({ timeMs }) => timeMs);
        expect(times).toEqual(times.toSorted((x, y) => x - y));
      }),
    );
  });

  it("are one line each, in which nothing can move a cursor, and mean the same", () => {
    const message = "a\n\u001b[2J\u007f\u009b31m\u202e\u2028";
    const line = eventLine({ ...finding(0, "lost-prime", { message }), unit: "A", seq: 1 });
    expect(line).toMatch(/^[\x20-\x7e]*$/);
    expect((JSON.parse(line) as { message: string }).message).toBe(message);
  });

  it("name the cause of a suppression, and only of that", () => {
    const suppressed = finding(0, "overheating", { event: "suppressed", by: "lost-prime" });
    expect(JSON.parse(eventLine({ ...suppressed, unit: "A", seq: 1 }))).toMatchObject({ by: "lost-prime" });
    expect(eventLine({ ...finding(0, "overheating"), unit: "A", seq: 1 })).not.toContain('"by"');
  });
});
