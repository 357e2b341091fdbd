import { describe, expect, it } from "vitest";
import type { UnitView } from "../../src/collector/fleet-view.ts";
import { alarm, dayMs, deskOf, hour, minute, nightMs } from "./harness.ts";

const oneWay = "ways: { ann: { command: [sms] } }";
const twoWays = "ways: { ann: { command: [sms] }, ben: { command: [sms] }, office: { command: [sms] } }";

const lostPrime = (atMs: number, over: Partial<Parameters<typeof alarm>[0]> = {}): Partial<UnitView> => ({
  alarms: [alarm({ id: "LM-01/7", raisedMs: atMs, ...over })],
});
const silent = (
  id: string,
  atMs: number,
  over: Partial<Parameters<typeof alarm>[0]> = {},
): Partial<UnitView> => ({
  state: "no readings",
  lastReadingMs: atMs - minute,
  alarms: [
    alarm({
      id,
      alarm: "readings-stale",
      priority: "medium",
      raisedMs: atMs,
      sinceMs: atMs - minute,
      ...over,
    }),
  ],
});
/** The units come first without an alarm, as in a collector that has run for long. */
const running = (notify: string, atMs: number) => {
  const desk = deskOf(notify);
  desk.look({}, atMs);
  return desk;
};

describe("an alarm", () => {
  it("that is damaging a pump is told at once, and once", () => {
    const desk = running(oneWay, nightMs - minute);
    const units = { "LM-01": lostPrime(nightMs) };
    expect(desk.look(units, nightMs)).toEqual([
      expect.stringMatching(
        /^ann: HIGH: Heron Bend LM-01 lost-prime since 03:11\. Ask somebody on site to unplug/,
      ),
    ]);
    expect(desk.over(units, nightMs, 3 * hour)).toEqual([]);
  });

  it("is not told again after a restart, and one that was raised while nobody collected is", () => {
    const desk = running(oneWay, nightMs - minute);
    desk.look({ "LM-01": lostPrime(nightMs) }, nightMs);
    desk.restart(nightMs + hour);
    const raised = alarm({ id: "LM-02/3", raisedMs: nightMs + 10 * minute, alarm: "overheating" });
    expect(desk.look({ "LM-01": lostPrime(nightMs), "LM-02": { alarms: [raised] } }, nightMs + hour)).toEqual(
      [expect.stringMatching(/^ann: HIGH: Heron Bend LM-02 overheating since 03:21/)],
    );
  });

  it("that a collector finds at its start waits for no other", () => {
    expect(deskOf(oneWay).look({ "LM-01": silent("LM-01/4", nightMs - hour) }, nightMs)).toHaveLength(1);
  });

  it("that stood when a collector began is told with its like once all logs have been read", () => {
    const desk = deskOf(oneWay);
    const catchingUp = { bytesRead: 1, bytesTotal: 9, bytesPerSecond: null };
    const first = { "LM-01": silent("LM-01/4", nightMs - hour), "LM-02": { catchingUp: true as const } };
    expect(desk.look(first, nightMs, { catchingUp })).toEqual([]);
    const both = { ...first, "LM-02": silent("LM-02/4", nightMs - hour) };
    expect(desk.look(both, nightMs + 2000, { catchingUp })).toEqual([]);
    expect(desk.look(both, nightMs + 3000)).toEqual([
      expect.stringContaining("2 of 4 units fell silent together"),
    ]);
  });

  it("that came and went within late data tells nobody", () => {
    const desk = running(oneWay, nightMs);
    const late = { "LM-01": lostPrime(nightMs - 3 * hour) };
    expect(desk.over(late, nightMs, 40_000)).toEqual([]);
    expect(desk.over({}, nightMs + 50_000, hour)).toEqual([]);
  });

  it("that came late and still stands is told after the grouping time", () => {
    const desk = running(oneWay, nightMs);
    const late = { "LM-01": lostPrime(nightMs - 3 * hour) };
    expect(desk.over(late, nightMs, minute)).toHaveLength(1);
  });

  it.each([
    "active-acknowledged",
    "shelved",
    "suppressed",
    "out-of-service",
    "returned-unacknowledged",
  ] as const)("that is %s tells nobody", (state) => {
    const desk = running(oneWay, nightMs);
    expect(desk.over({ "LM-01": lostPrime(nightMs, { state }) }, nightMs, hour)).toEqual([]);
  });

  it("that was shelved before its message came through is told when the shelving ends", () => {
    let isDown = true;
    const desk = deskOf(oneWay, () => (isDown ? "waiting" : "delivered"));
    desk.look({ "LM-01": lostPrime(nightMs) }, nightMs);
    desk.look({ "LM-01": lostPrime(nightMs, { state: "shelved" }) }, nightMs + minute);
    expect([...desk.memory.deliveries.values()]).toMatchObject([{ outcome: "withdrawn" }]);
    isDown = false;
    expect(desk.over({ "LM-01": lostPrime(nightMs) }, nightMs + hour, hour)).toHaveLength(1);
  });

  it("whose priority rises is told again, under another id", () => {
    const desk = running(oneWay, dayMs);
    const restricted = { alarm: "suction-restricted" as const };
    desk.over({ "LM-01": lostPrime(dayMs, { ...restricted, priority: "medium" }) }, dayMs, minute);
    const risen = desk.over({ "LM-01": lostPrime(dayMs, restricted) }, dayMs + hour, minute);
    expect(risen).toEqual([expect.stringMatching(/^ann: HIGH: Heron Bend LM-01 suction-restricted/)]);
    expect(desk.sent.map(({ message }) => message)).toEqual([
      "LM-01/7@20260504T150000Z",
      "LM-01/7@20260504T150000Z/high",
    ]);
  });

  it("that chatters is told once within the hour", () => {
    const desk = running(oneWay, dayMs);
    const told: string[] = [];
    for (let n = 0; n < 12; n++) {
      const atMs = dayMs + n * 10 * minute;
      const again = { id: `LM-01/${n}`, raisedMs: atMs, ...(n >= 3 && { chattering: 4 }) };
      told.push(...desk.over({ "LM-01": lostPrime(atMs, again) }, atMs, 2 * minute));
      told.push(...desk.over({}, atMs + 3 * minute, 5 * minute));
    }
    // Three raisings, then the one that says that it comes and goes.
    expect(told).toHaveLength(4);
  });

  it("of a unit that is still being read is neither told nor taken for returned", () => {
    const desk = running(`${oneWay}\ntell_return: true`, dayMs);
    desk.look({ "LM-01": lostPrime(dayMs) }, dayMs);
    desk.restart(dayMs + hour);
    expect(desk.over({ "LM-01": { catchingUp: true } }, dayMs + hour, 10 * minute)).toEqual([]);
  });
});

describe("quiet hours", () => {
  const quiet = `${oneWay}\nquiet_hours: 22:00-07:00\nsend: [{ to: ann, at_least: prompt }]`;

  it("never silence a high alarm", () => {
    const desk = running(quiet, nightMs - minute);
    expect(desk.look({ "LM-01": lostPrime(nightMs) }, nightMs)).toHaveLength(1);
  });

  it("hold medium and low ones until they end, those of a site in one message", () => {
    const desk = running(quiet, nightMs - minute);
    const units = {
      "LM-01": lostPrime(nightMs, { alarm: "ozone-off", priority: "medium" }),
      "LM-02": {
        alarms: [alarm({ id: "LM-02/2", alarm: "sensor-fault", priority: "low", raisedMs: nightMs })],
      },
    };
    const sevenMs = Date.UTC(2026, 4, 4, 12);
    expect(desk.over(units, nightMs, sevenMs - nightMs - 20_000)).toEqual([]);
    expect(desk.over(units, sevenMs, minute)).toEqual([
      expect.stringMatching(
        /^ann: MEDIUM: Heron Bend: 2 alarms since 03:11: LM-01 ozone-off, LM-02 sensor-fault\. /,
      ),
    ]);
  });

  it("of others do not let a prompt through at night", () => {
    const desk = running(`${oneWay}\nsend: [{ to: ann, at_least: prompt }]`, nightMs - minute);
    const due = { "LM-01": lostPrime(nightMs, { alarm: "service-overdue", priority: "prompt" }) };
    const sevenMs = Date.UTC(2026, 4, 4, 12);
    expect(desk.over(due, nightMs, sevenMs - nightMs - 20_000)).toEqual([]);
    expect(desk.over(due, sevenMs, minute)).toHaveLength(1);
  });
});

describe("one message is sent", () => {
  it("for a site whose units fall silent within the grouping time", () => {
    const desk = running(oneWay, nightMs - minute);
    const first = { "LM-01": silent("LM-01/4", nightMs) };
    const all = {
      ...first,
      "LM-02": silent("LM-02/9", nightMs + 20_000),
      "LM-03": silent("LM-03/2", nightMs + 40_000),
    };
    expect([...desk.over(first, nightMs, 30_000), ...desk.over(all, nightMs + 40_000, hour)]).toEqual([
      "ann: MEDIUM: Heron Bend: 3 of 4 units fell silent together since 03:11: power or link. Call the site: is there power? If there is, look at the loggers and their...",
    ]);
  });

  it("for a site whose slower loggers are called silent only minutes after the quick ones", () => {
    const desk = running(oneWay, nightMs - minute);
    const slow = { lastReadingMs: nightMs - minute, intervalMs: minute, state: "running" as const };
    const quick = { "LM-01": silent("LM-01/4", nightMs), "LM-02": silent("LM-02/4", nightMs) };
    const all = {
      ...quick,
      "LM-03": {
        ...silent("LM-03/4", nightMs + 4 * minute, { sinceMs: nightMs - minute }),
        intervalMs: minute,
      },
    };
    const told = [
      ...desk.over({ ...quick, "LM-03": slow }, nightMs, 4 * minute - 10_000),
      ...desk.over(all, nightMs + 4 * minute, hour),
    ];
    expect(told).toEqual([expect.stringMatching(/3 of 4 units fell silent together/)]);
  });

  it("for a path of delivery that is down, whatever the sites", () => {
    const desk = running(oneWay, nightMs - minute);
    const ids = ["LM-01", "LM-02", "LM-03", "LM-04", "LM-05", "LM-06", "LM-07"];
    const units = Object.fromEntries(ids.map((id, i) => [id, silent(`${id}/4`, nightMs + i * 4000)]));
    expect(desk.over(units, nightMs + 30_000, hour)).toEqual([
      "ann: MEDIUM: Larkmoor ponds: 7 of 7 units fell silent together since 03:11: one path of delivery, or power. See whether log files still arrive here: server...",
    ]);
  });

  it("for a site whose pumps stop at once while their loggers go on", () => {
    const desk = running(oneWay, nightMs - minute);
    const stopped = { alarm: "not-running" as const, priority: "high" as const };
    const first = { "LM-01": silent("LM-01/4", nightMs, stopped) };
    const both = { ...first, "LM-02": silent("LM-02/4", nightMs + 9000, stopped) };
    expect([...desk.look(first, nightMs), ...desk.over(both, nightMs + 10_000, hour)]).toEqual([
      expect.stringMatching(
        /^ann: HIGH: Heron Bend: 2 of 4 units stopped together since 03:11: power or link\. Call the site/,
      ),
    ]);
  });

  it("for what follows a pressing alarm at its site within the grouping time", () => {
    const desk = running(oneWay, nightMs - minute);
    const at = (unit: string, afterMs: number) => ({
      alarms: [alarm({ id: `${unit}/1`, raisedMs: nightMs + afterMs })],
    });
    const told = [
      ...desk.look({ "LM-01": at("LM-01", 0) }, nightMs),
      ...desk.over(
        { "LM-01": at("LM-01", 0), "LM-02": at("LM-02", 10_000), "LM-03": at("LM-03", 10_000) },
        nightMs + 10_000,
        hour,
      ),
    ];
    expect(told).toHaveLength(2);
    expect(told[1]).toMatch(/2 alarms .*LM-02 lost-prime, LM-03 lost-prime/);
  });

  it("each for sites that fall silent hours apart", () => {
    const desk = running(`${oneWay}\nquiet_hours: 22:00-07:00`, nightMs - minute);
    const units = { "LM-01": silent("LM-01/4", nightMs), "LM-05": silent("LM-05/4", nightMs + 2 * hour) };
    expect(desk.over(units, nightMs + 2 * hour, 3 * hour)).toHaveLength(2);
  });

  it("for a log that cannot be read, and none when its silence becomes an alarm", () => {
    const desk = running(oneWay, dayMs - minute);
    const broken = { problem: "LM-01.csv: no permission to read it", lastReadingMs: dayMs };
    expect(desk.over({ "LM-01": broken }, dayMs, 2 * minute)).toEqual([
      expect.stringMatching(
        /^ann: MEDIUM: Heron Bend LM-01 readings-stale since 10:00\. See why its log cannot be read here/,
      ),
    ]);
    const stale = { ...silent("LM-01/4", dayMs + minute, { sinceMs: dayMs }), ...broken };
    expect(desk.over({ "LM-01": stale }, dayMs + 3 * minute, hour)).toEqual([]);
  });
});

describe("who is told", () => {
  it("is every line that fits by priority and site, and one way only once", () => {
    const desk = running(
      `${twoWays}\nsend: [{ to: ann, at_least: high }, { to: [ann, office], sites: Heron Bend }, { to: ben, sites: Otter Pool }]`,
      dayMs - minute,
    );
    const told = desk.over({ "LM-01": lostPrime(dayMs) }, dayMs, hour);
    expect(told.map((line) => line.split(":")[0])).toEqual(["ann", "office"]);
  });

  it("is by the hours of the line", () => {
    const desk = running(
      `${twoWays}\nsend: [{ to: ann }, { to: office, hours: 07:00-17:00 }]`,
      nightMs - minute,
    );
    expect(desk.look({ "LM-01": lostPrime(nightMs) }, nightMs)).toHaveLength(1);
    expect(desk.over({ "LM-01": lostPrime(nightMs) }, nightMs, 6 * hour)).toEqual([
      expect.stringMatching(/^office: HIGH/),
    ]);
  });

  it("is the next while nobody acknowledges, in one message for what was told in one", () => {
    const desk = running(
      `${twoWays}\nsend: [{ to: ann, escalate_after: 15 min, escalate_to: [ben, office] }]`,
      nightMs - minute,
    );
    const units = { "LM-01": silent("LM-01/4", nightMs), "LM-02": silent("LM-02/4", nightMs) };
    const told = desk.over(units, nightMs, 3 * hour);
    expect(told.map((line) => line.slice(0, 28))).toEqual([
      "ann: MEDIUM: Heron Bend: 2 o",
      "ben: MEDIUM, NOT ANSWERED: H",
      "office: MEDIUM, NOT ANSWERED",
    ]);
    const [first, second] = desk.sent.map(({ madeMs }) => madeMs);
    expect((second ?? 0) - (first ?? 0)).toBe(15 * minute);
  });

  it("is nobody more once somebody has acknowledged", () => {
    const desk = running(`${twoWays}\nsend: [{ to: ann, escalate_to: [ben] }]`, nightMs - minute);
    desk.look({ "LM-01": lostPrime(nightMs) }, nightMs);
    const heard = { "LM-01": lostPrime(nightMs, { state: "active-acknowledged" }) };
    expect(desk.over(heard, nightMs + 5 * minute, hour)).toEqual([]);
  });

  it("is the next no hours late where the clock was put back by hours meanwhile", () => {
    const desk = running(
      `${twoWays}\nsend: [{ to: ann, escalate_after: 15 min, escalate_to: [ben] }]`,
      nightMs - minute,
    );
    const units = { "LM-01": silent("LM-01/4", nightMs) };
    expect(desk.over(units, nightMs, 10 * minute)).toHaveLength(1);
    expect(desk.over(units, nightMs - 3 * hour, 15 * minute)).toEqual([
      expect.stringMatching(/^ben: MEDIUM, NOT ANSWERED/),
    ]);
  });

  it("is the next at once where the first way refuses", () => {
    const desk = deskOf(`${twoWays}\nsend: [{ to: ann, escalate_to: [ben] }]`, ({ way }) =>
      way === "ann" ? "refused" : "delivered",
    );
    desk.look({ "LM-01": lostPrime(nightMs) }, nightMs);
    expect(desk.look({ "LM-01": lostPrime(nightMs) }, nightMs + 1000)).toEqual([
      expect.stringMatching(/^ben: HIGH, NOT ANSWERED/),
    ]);
  });
});

describe("a return to normal", () => {
  const returns = `${twoWays}\nsend: [{ to: [ann, ben] }]\ntell_return: true`;

  it("is told once to each who was told of the alarm", () => {
    const desk = running(returns, dayMs - minute);
    desk.look({ "LM-01": lostPrime(dayMs) }, dayMs);
    expect(desk.over({}, dayMs + hour, hour)).toEqual([
      "ann: Returned to normal: Heron Bend LM-01 lost-prime at 11:00 (told 10:00)",
      "ben: Returned to normal: Heron Bend LM-01 lost-prime at 11:00 (told 10:00)",
    ]);
    desk.restart(dayMs + 3 * hour);
    expect(desk.over({}, dayMs + 3 * hour, hour)).toEqual([]);
  });

  it("is told of an alarm that cleared while nobody collected", () => {
    const desk = running(returns, dayMs - minute);
    desk.look({ "LM-01": lostPrime(dayMs) }, dayMs);
    desk.restart(dayMs + hour);
    expect(desk.over({}, dayMs + hour, 5 * minute)).toHaveLength(2);
  });

  it("is not told of an alarm that is raised again within the grouping time, or is suppressed", () => {
    const desk = running(returns, dayMs - minute);
    desk.look({ "LM-01": lostPrime(dayMs) }, dayMs);
    desk.over({}, dayMs + hour, 30_000);
    const again = { "LM-01": lostPrime(dayMs + hour, { id: "LM-01/9", state: "active-acknowledged" }) };
    expect(desk.over(again, dayMs + hour + 40_000, hour)).toEqual([]);
  });

  it("is not told unless asked for", () => {
    const desk = running(oneWay, dayMs - minute);
    desk.look({ "LM-01": lostPrime(dayMs) }, dayMs);
    expect(desk.over({}, dayMs + hour, hour)).toEqual([]);
  });
});
