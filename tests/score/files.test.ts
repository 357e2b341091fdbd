import { describe, expect, it } from "vitest";
import { readEvents } from "../../src/score/event-file.ts";
import { readTruth } from "../../src/score/truth.ts";
import { at } from "./told.ts";

const row = "LM-01,lost-prime,2026-05-04T10:00:00Z,2026-05-04T11:00:00Z";
const truth = (text: string, units?: readonly string[]) =>
  readTruth(text, "truth.csv", units && new Set(units));

describe("truth.csv", () => {
  it("is read in any order of columns, with any offset, further columns, comments and blank lines", () => {
    const text = [
      "\ufeff# invented faults",
      "End,note,unit,start,alarm",
      "",
      "2026-05-04T13:00:00+02:00,a weed,LM-01,2026-05-04T10:00:00Z,lost-prime",
    ];
    expect(truth(text.join("\r\n"))).toEqual({
      faults: [{ unit: "LM-01", alarm: "lost-prime", startMs: at("10:00"), endMs: at("11:00") }],
      unitDays: undefined,
    });
  });

  it("may say in comments how many units it covers, from when to when", () => {
    const text = `# units 40\n# from 2026-05-01T00:00:00Z\n# to 2026-05-31T00:00:00Z\nunit,alarm,start,end\n`;
    expect(truth(`${text}${row}\n`)).toMatchObject({ unitDays: 1200 });
    expect(truth(`\ufeff${text.replaceAll("\n", "\r\n")}${row}`)).toMatchObject({ unitDays: 1200 });
    // A fleet without a fault is a truth too, where it is said what was without one.
    expect(truth(text)).toEqual({ faults: [], unitDays: 1200 });
    const others = "# to be checked\n# units forty, it is said\n# from the night shift\n";
    expect(truth(`${others}unit,alarm,start,end\n${row}`)).toMatchObject({ unitDays: undefined });
  });

  it.each([
    ["", ["truth.csv: it is empty; write unit,alarm,start,end in its first line"]],
    [
      "unit,alarm,start,end\n",
      [
        "truth.csv: it has no fault; write a row a fault, or say with # units, # from and # to what was free of faults",
      ],
    ],
    ["unit,start,end\n", ["truth.csv:1 has no column alarm; write unit,alarm,start,end in its first line"]],
    [`unit,alarm,start,end\n"LM-01\n`, [/^truth\.csv:\d is not CSV/]],
    [
      `unit,alarm,start,end\n# a comment\n${row.replace("lost-prime", "lost-prim")}\n`,
      ["truth.csv:3 alarm: 'lost-prim' is not an alarm; the nearest is lost-prime"],
    ],
    [
      "unit,alarm,start,end\nLM-01,ozone-off,2026-05-04T10:00:00Z,2026-05-04T09:00:00Z\n",
      [
        "truth.csv:2 end: 2026-05-04T09:00:00Z is before the start 2026-05-04T10:00:00Z; write the earlier time as start",
      ],
    ],
    [
      "unit,alarm,start,end\nLM-01,ozone-off,yesterday,2026-05-04 09:00\n",
      [
        "truth.csv:2 start: 'yesterday' is not a time with its offset; write 2026-05-04T03:12:20Z",
        "truth.csv:2 end: '2026-05-04 09:00' is not a time with its offset; write 2026-05-04T03:12:20Z",
      ],
    ],
    [
      `# units 0\n# from 2026-05-01\n# to 2026-05-02 00:00\nunit,alarm,start,end\n${row}\n`,
      [
        "truth.csv:1 # units '0' is no number above 0; write # units 40",
        "truth.csv:2 # from '2026-05-01' is not a time with its offset; write # from 2026-05-04T00:00:00Z",
        "truth.csv:3 # to '2026-05-02 00:00' is not a time with its offset; write # to 2026-05-04T00:00:00Z",
      ],
    ],
    [
      `unit,alarm,start,end\n# units 4\n# to 2026-05-01T00:00:00Z\n# from 2026-05-02T00:00:00Z\n${row}\n`,
      ["truth.csv:3 # to is not after # from; write the earlier time as # from"],
    ],
    [`unit,alarm,start,end\n${row.slice(5)}`, ["truth.csv:2 unit: nothing is no unit; write its id"]],
    [
      "unit,alarm,start,end\nLM-01\n",
      [/^truth\.csv:2 alarm: /, /2 start: nothing is not/, /2 end: nothing is not/],
    ],
  ])("%j is answered with what to write", (text, lines) => {
    const read = truth(text);
    const problems = "problems" in read ? read.problems : [];
    expect(problems).toHaveLength(lines.length);
    for (const [i, line] of lines.entries()) expect(problems[i]).toMatch(line);
  });

  it("names the nearest unit where the fleet is known", () => {
    expect(truth(`unit,alarm,start,end\n${row}`, ["LM-02", "AC-17"])).toEqual({
      problems: ["truth.csv:2 unit: 'LM-01' is no unit of this fleet; the nearest is LM-02"],
    });
  });
});

const event = {
  time: "2026-05-04T10:00:00.000Z",
  unit: "LM-01",
  seq: 1,
  alarm: "lost-prime",
  event: "raised",
  priority: "high",
};
const events = (...lines: readonly object[]) =>
  readEvents(lines.map((line) => `${JSON.stringify(line)}\n`).join(""), "events.jsonl");

describe("a file of events", () => {
  it("gives what begins and ends alarms, in order of time; other events and blank lines are passed over", () => {
    const later = { ...event, time: "2026-05-04T11:00:00.000Z", event: "cleared" };
    const text = `\ufeff${JSON.stringify(later)}\r\n\n${JSON.stringify({ ...event, event: "noted" })}\n${JSON.stringify(event)}`;
    expect(readEvents(text, "events.jsonl")).toEqual({
      told: [
        { unit: "LM-01", alarm: "lost-prime", kind: "raised", priority: "high", timeMs: at("10:00") },
        { unit: "LM-01", alarm: "lost-prime", kind: "cleared", priority: "high", timeMs: at("11:00") },
      ],
    });
    expect(readEvents("", "events.jsonl")).toEqual({ told: [] });
  });

  it("tells file and line of the first that is no event", () => {
    const problem = (text: string) => readEvents(text, "events.jsonl");
    expect(problem("\nunit,alarm\n")).toEqual({
      problem: "events.jsonl:2 it is not JSON; write the events with `tarnwatch replay FLEET --events FILE`",
    });
    expect(problem("[1]")).toEqual({ problem: expect.stringMatching(/^events.jsonl:1 it is no event/) });
  });

  it.each([
    [{ time: "noon" }, "time: 'noon' is not a time"],
    [{ unit: 7 }, "unit: '7' is no unit"],
    [{ alarm: "lost-prim" }, "alarm: 'lost-prim' is not an alarm; the nearest is lost-prime"],
    [{ priority: "urgent" }, "priority: 'urgent' is no priority; write high, medium, low, prompt"],
    [{ event: undefined }, "it has no event"],
  ])("%j", (change, words) => {
    expect(events(event, { ...event, ...change })).toEqual({
      problem: expect.stringContaining(`events.jsonl:2 ${words}`),
    });
  });
});
