import { describe, expect, test } from "vitest";
import { headLines } from "../../src/dashboard/head.ts";
import { progressText } from "../../src/dashboard/progress-text.ts";
import { drawn } from "./draw.ts";
import { fleetView } from "./fixture.ts";

describe("how far the logs are read", () => {
  test.each([
    [1.2e9, 3e9, null, "40 % (1.2 of 3.0 GB)"],
    [1.2e9, 3e9, 85.2e6, "40 % (1.2 of 3.0 GB) · 85.2 MB/s · 22 s left"],
    [1e9, 61e9, 10e6, "1 % (1.0 of 61.0 GB) · 10.0 MB/s · 1 h 40 min left"],
    [0, 4e5, null, "0 % (0.0 of 0.4 MB)"],
    [0, 0, null, "0 % (0.0 of 0.0 MB)"],
    [2e5, 0, null, "looking how much there is"],
    [2e6, 4e6, 0, "50 % (2.0 of 4.0 MB) · 0.0 MB/s"],
    // Logs that grow while they are read.
    [310e6, 300e6, 150e6, "99 % (310 of 300 MB) · 150 MB/s · 1 s left"],
  ])("%d of %d bytes at %s a second", (bytesRead, bytesTotal, bytesPerSecond, told) => {
    expect(progressText({ bytesRead, bytesTotal, bytesPerSecond })).toBe(told);
  });

  test("stands in the head of an 80-column screen, with the warning where there is room for it", () => {
    const row = (bytesPerSecond: number | null, bytesRead: number) =>
      drawn(
        headLines(fleetView(1, { catchingUp: { bytesRead, bytesTotal: 61e9, bytesPerSecond } }), 0, 80),
      )[1];
    expect(row(85.2e6, 60e9)).toBe(" reading the logs: 98 % (60.0 of 61.0 GB) · 85.2 MB/s · 12 s left");
    expect(row(null, 1e9)).toMatch(/^ reading the logs: 1 % \(1\.0 of 61\.0 GB\) +not yet up to now$/);
    expect(row(2e6, 1e9)).toContain("8 h 20 min left");
  });
});
