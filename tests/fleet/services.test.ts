import { describe, expect, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { readServices } from "../../src/fleet/services.ts";

const read = readFleet("units: [{ id: LM-01 }, { id: LM-02 }]", { path: "fleet.yaml", folder: "/srv" }, {});
if ("problems" in read) throw new Error(read.problems.join("\n"));
const { fleet } = read;

describe("service records from a CSV file", () => {
  test("are read in order of time, whatever the order of rows and columns", () => {
    const csv = [
      "# kept by hand",
      "kind,At,Unit,by",
      '"Planned stop begin",2026-05-03T12:00:00Z,LM-02,"night, shift"',
      "",
      "cleaning ,2026-05-02T09:00:00-05:00, LM-01,",
      "repair end,2026-05-02T09:00:00.5-05:00,LM-01",
    ].join("\r\n");
    expect(readServices(csv, "services.csv", fleet)).toEqual({
      services: [
        { unit: "LM-01", work: "cleaning", step: "done", atMs: Date.parse("2026-05-02T14:00:00Z") },
        { unit: "LM-01", work: "repair", step: "end", atMs: Date.parse("2026-05-02T14:00:00.500Z") },
        { unit: "LM-02", work: "planned stop", step: "begin", atMs: Date.parse("2026-05-03T12:00:00Z") },
      ],
    });
  });

  test("may be none", () => {
    expect(readServices("\ufeffunit,kind,at\n", "services.csv", fleet)).toEqual({ services: [] });
  });

  test.each([
    ["", "services.csv: it is empty; write unit,kind,at in its first line"],
    [
      "unit,at\nLM-01,2026-05-02T09:00:00Z",
      "services.csv:1 has no column kind; write unit,kind,at in its first line",
    ],
    [
      'unit,kind,at\nLM-01,"clean',
      "services.csv:2 is not CSV: a quote is not closed or stands inside a cell; write unit,kind,at",
    ],
    [
      "unit,kind,at\n\nLM-3,repair,2026-05-02T09:00:00Z",
      "services.csv:3 unit: 'LM-3' is no unit of this fleet; its units are LM-01, LM-02",
    ],
    [
      "unit,kind,at\nLM-01,clean,2026-05-02T09:00:00Z",
      "services.csv:2 kind: 'clean' is not a kind of service; write cleaning",
    ],
    [
      "unit,kind,at\nLM-01,planned stop done,2026-05-02T09:00:00Z",
      "services.csv:2 kind: 'planned stop done' is not a kind of service; write planned stop end",
    ],
    [
      "unit,kind,at\nLM-01,repair,2026-05-02 09:00",
      "services.csv:2 at: '2026-05-02 09:00' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "unit,kind,at\nLM-01,repair",
      "services.csv:2 at: nothing is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "unit,kind,at\n\u001b[2J,repair,2026-05-02T09:00:00Z",
      "services.csv:2 unit: '␛[2J' is no unit of this fleet; its units are LM-01, LM-02",
    ],
  ])("%j is told in one line", (csv, line) => {
    expect(readServices(csv, "services.csv", fleet)).toEqual({ problems: [line] });
  });
});
