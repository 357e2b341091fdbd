import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { AlarmView } from "../../src/collector/fleet-view.ts";
import type { AlarmName, Priority } from "../../src/terms/alarms.ts";
import { alarm, deskOf, minute, nightMs } from "./harness.ts";

const names: readonly AlarmName[] = ["lost-prime", "readings-stale", "not-running", "ozone-off"];
const units = ["LM-01", "LM-02", "LM-05", "LM-07"];
const stepMs = 20_000;

/** What happens to one alarm, or to the collector, at one look. */
const happening = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      do: fc.constant("raise" as const),
      unit: fc.nat(3),
      alarm: fc.nat(3),
      high: fc.boolean(),
    }),
  },
  {
    weight: 5,
    arbitrary: fc.record({ do: fc.constant("clear" as const), unit: fc.nat(3), alarm: fc.nat(3) }),
  },
  {
    weight: 3,
    arbitrary: fc.record({ do: fc.constant("acknowledge" as const), unit: fc.nat(3), alarm: fc.nat(3) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant("shelve" as const), unit: fc.nat(3), alarm: fc.nat(3) }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant("restart" as const) }) },
  {
    weight: 8,
    arbitrary: fc.record({ do: fc.constant("pass" as const), looks: fc.integer({ min: 1, max: 12 }) }),
  },
);

const notify = `ways: { ann: { command: [sms] }, ben: { command: [sms] }, office: { command: [sms] } }
rota: { on call: [{ way: ann, hours: "20:00-04:00" }, { way: ben, days: [tue] }] }
send:
  - { to: on call, escalate_after: 3 min, escalate_to: [ben, office] }
  - { to: [office, ann], at_least: medium, hours: "03:30-23:00" }
quiet_hours: 22:00-04:30
group_within: 1 min
tell_return: true`;

describe("over any history of alarms, words of people and restarts", () => {
  it("no message reaches a way twice, and every high alarm that stands unanswered is told in time, at night too", () => {
    fc.assert(
      fc.property(
        fc.array(happening, { minLength: 5, maxLength: 60 }),
        fc.infiniteStream(fc.nat(9)),
        (history, luck) => {
          // A try in ten is in vain, and is made again at the next look.
          const desk = deskOf(notify, () => (luck.next().value === 0 ? "waiting" : "delivered"));
          const standing = new Map<string, AlarmView>();
          const aloneSince = new Map<string, number>();
          let seq = 0;
          let nowMs = nightMs;
          const look = () => {
            nowMs += stepMs;
            const views = Object.fromEntries(
              units.map((unit) => [
                unit,
                { alarms: [...standing].filter(([key]) => key.startsWith(unit)).map(([, view]) => view) },
              ]),
            );
            desk.look(views, nowMs);
            for (const [key, view] of standing) {
              const waits = view.priority === "high" && view.state === "active-unacknowledged";
              if (!waits) aloneSince.delete(key);
              else if (!aloneSince.has(key)) aloneSince.set(key, nowMs);
            }
            for (const [key, sinceMs] of aloneSince) {
              // Enough looks for ten tries in vain one after another would be a long time: three are allowed.
              if (!standing.has(key) || nowMs - sinceMs < minute + 3 * stepMs) continue;
              const seqOf = standing.get(key)?.id?.split("/")[1];
              const told = desk.sent.some(({ alarms }) =>
                alarms.some(({ id, priority }) => id.includes(`/${seqOf}@`) && priority === "high"),
              );
              expect(told).toBe(true);
            }
          };
          for (const event of history) {
            if (event.do === "restart") desk.restart(nowMs);
            else if (event.do === "pass") for (let i = 0; i < event.looks; i++) look();
            else {
              const key = `${units[event.unit]}/${names[event.alarm]}`;
              const now = standing.get(key);
              if (event.do === "clear") {
                standing.delete(key);
                aloneSince.delete(key);
              } else if (event.do === "raise" && now === undefined) {
                const priority: Priority = event.high ? "high" : "medium";
                const id = `${units[event.unit]}/${++seq}`;
                standing.set(key, alarm({ id, alarm: names[event.alarm], priority, raisedMs: nowMs }));
              } else if (event.do === "acknowledge" && now)
                standing.set(key, { ...now, state: "active-acknowledged" });
              else if (event.do === "shelve" && now) {
                const state = now.state === "shelved" ? "active-unacknowledged" : "shelved";
                standing.set(key, { ...now, state });
              }
              look();
            }
          }
          const passed = desk.passed.map(({ message, way }) => `${message} ${way}`);
          expect(new Set(passed).size).toBe(passed.length);
        },
      ),
      { numRuns: 150 },
    );
  });
});
