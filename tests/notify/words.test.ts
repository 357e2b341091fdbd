import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { UnitView } from "../../src/collector/fleet-view.ts";
import type { Content } from "../../src/notify/content.ts";
import { standOf } from "../../src/notify/standing.ts";
import { alarm, deskOf, fleetOf, nightMs, type Units, viewOf } from "./harness.ts";

const ways =
  "ways: { ann: { command: [sms] }, ben: { command: [sms] } }\nsend: [{ to: ann, escalate_to: [ben] }]";

function contentOf(units: Units): Content {
  const desk = deskOf(ways);
  desk.look(units, nightMs);
  return JSON.parse(desk.sent[0]?.content ?? "null") as Content;
}

describe("what a technician reads who was just woken up", () => {
  const { text, subject } = contentOf({ "LM-01": { alarms: [alarm({ id: "LM-01/7", raisedMs: nightMs })] } });

  it("has in its first line site, unit, alarm, since when, and what helps at once", () => {
    const [first = ""] = text.split("\n");
    expect(first).toMatch(/^HIGH: Heron Bend LM-01 lost-prime since 03:11\. Ask somebody on site to unplug /);
    expect(first.startsWith(subject.replace(/\.\.\.$/, ""))).toBe(true);
  });

  it("goes on with the reason, how soon, the caution, and what to do", () => {
    const parts = [
      /^Why: discharge pressure has collapsed/m,
      /^How soon: Now: /m,
      /^Caution:\n- /m,
      /^What to do:\n1\. /m,
    ];
    const places = parts.map((part) => text.search(part));
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  it("says how to get in, who is told next and when, and how to acknowledge", () => {
    expect(text).toContain("Access to Heron Bend: gate by the boathouse");
    expect(text).toContain("Unless somebody acknowledges it, ben will be told at 03:27.");
    expect(text).toContain("tarnwatch alarm acknowledge FLEET LM-01 lost-prime");
  });

  it("never advises to restart from afar", () => {
    expect(text).toContain("Never restart a unit from afar.");
  });

  it("dates what began on another day", () => {
    const since = nightMs - 5 * 3_600_000;
    const { subject: of } = contentOf({ "LM-01": { alarms: [alarm({ id: "LM-01/7", raisedMs: since })] } });
    expect(of).toContain("since 3 May 22:11");
  });
});

describe("a subject", () => {
  it("fits one short message, and nothing in it moves a cursor or begins a line, whatever names say", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "binary", maxLength: 300, size: "max" }),
        fc.integer({ min: 1, max: 4 }),
        (words, count) => {
          const units = Object.fromEntries(
            ["LM-01", "LM-02", "LM-03", "LM-04"].slice(0, count).map((id) => {
              const raised = alarm({ id: `${id}/7`, raisedMs: nightMs, message: words });
              const guidance = { ...raised.guidance, actions: [words] };
              return [id, { alarms: [{ ...raised, guidance }] }];
            }),
          );
          const { subject, text } = contentOf(units);
          expect(subject.length).toBeLessThanOrEqual(160);
          expect(subject).not.toMatch(/\p{Cc}/u);
          expect(text).not.toMatch(/[^\P{Cc}\n]/u);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("the JSON of a message", () => {
  it("tells ten alarms in full and names the units of the rest", () => {
    const names = ["lost-prime", "overheating", "overcurrent"] as const;
    const units = Object.fromEntries(
      ["LM-01", "LM-02", "LM-03", "LM-04"].map((id) => [
        id,
        { alarms: names.map((name, i) => alarm({ id: `${id}/${i}`, alarm: name, raisedMs: nightMs })) },
      ]),
    );
    const { alarms, more, priority, site, type } = contentOf(units);
    expect({ type, priority, site, told: alarms.length, more }).toEqual({
      type: "alarm.raised",
      priority: "high",
      site: "Heron Bend",
      told: 10,
      more: ["LM-04"],
    });
    expect(alarms[0]).toMatchObject({
      unit: "LM-01",
      alarm: "lost-prime",
      since: "2026-05-04T08:11:50.000Z",
      evidence: { discharge_pressure: { value: 2.1, unit: "kPa", baseline: 86.4 } },
      how_soon: expect.stringMatching(/^Now/),
    });
  });
});

describe("the id of a message", () => {
  it("fits in a header and has no full stop, which parts what a signature covers, whatever the unit is called", () => {
    const fleet = fleetOf("ways: { ann: { command: [sms] } }");
    const view = viewOf(fleet, {}, nightMs);
    const [first] = view.units;
    const raised = alarm({ id: "Étang.1/7", raisedMs: nightMs });
    const { unanswered } = standOf({
      ...view,
      units: [{ ...(first as UnitView), id: "Étang.1", alarms: [raised] }],
    });
    expect(unanswered.map(({ id }) => id)).toEqual(["%C3%89tang%2E1/7@20260504T081220Z"]);
  });
});
