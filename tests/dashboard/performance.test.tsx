import { cleanup, render } from "ink-testing-library";
import { afterEach, describe, expect, test, vi } from "vitest";
import { heldAgainst, heldPriorities } from "../../src/assess/standards.ts";
import type { PerformanceView, PerformanceWanted } from "../../src/collector/read-performance.ts";
import { Dashboard } from "../../src/dashboard/dashboard.tsx";
import { performanceWindows } from "../../src/dashboard/performance-place.ts";
import { performanceRows, performanceScreen } from "../../src/dashboard/performance-screen.ts";
import type { FleetSource } from "../../src/dashboard/source.ts";
import { day, hour } from "../../src/terms/time.ts";
import { performance, told, word } from "../support/lives.ts";
import { drawn, widths } from "./draw.ts";
import { fixtureSource, fleetView, nightMs } from "./fixture.ts";

afterEach(cleanup);

/** A night with a flood of eleven, one that was acknowledged, one shelved and one stale for three days. */
function figures(windowMs: number): PerformanceView {
  const fromMs = nightMs - windowMs;
  const flood = Array.from({ length: 11 }, (_, n) =>
    told(nightMs - 2 * hour + n * 1000, "raised", { unit: `LM-${n + 1}`, alarm: "readings-stale" }),
  );
  const events = [told(nightMs - 3 * day), told(nightMs - 3 * hour, "raised", { unit: "LM-02" }), ...flood];
  const words = [
    word(nightMs - 4 * hour, "shelve", { unit: "LM-02", untilMs: nightMs + hour }),
    word(nightMs - hour, "acknowledge", {
      unit: "LM-1",
      alarm: "readings-stale",
      raisedMs: nightMs - 2 * hour,
    }),
  ];
  const whole = performance(events, words, fromMs, nightMs);
  return { ...whole, held: heldAgainst(whole), priorities: heldPriorities(whole) };
}

const all = () => performanceWindows.map(({ ms }) => figures(ms));

describe("the fleet's alarm performance at 80 × 24", () => {
  const screen = (window: number, top = 0) =>
    performanceScreen(
      performanceRows({ figures: all(), problem: null }, window, "America/Chicago", 80),
      fleetView(14),
      { window, top },
      0,
      80,
      24,
    );

  test("is 24 rows of at most 80 columns and none is cut, wherever it is scrolled", () => {
    for (const window of performanceWindows.keys()) {
      for (const top of [0, 9, 100]) {
        const rows = screen(window, top);
        expect(rows).toHaveLength(24);
        for (const width of widths(rows)) expect(width).toBeLessThanOrEqual(80);
        expect(drawn(rows).join("\n")).not.toContain("…");
      }
    }
  });

  test("each figure stands beside the standards', with a verdict where there is enough to tell", () => {
    const shown = drawn(screen(1));
    const text = shown.join("\n");
    expect(text).toMatch(/Alarm performance of the fleet +8 h +\[24 h\] +7 d +30 d/);
    expect(text).toContain("3 May 03:12 to 03:12");
    expect(text).toContain("11 alarms announced in 1 d; the standards ask for 30 d at least");
    expect(text).toMatch(/alarms a day +11 +about 150, at most 300 +within/);
    expect(text).toMatch(/alarms in 10 min, most +11 +at most 10 +over/);
    expect(text).toMatch(/10 min with more than 10 +0\.7 % +under 1 % +within/);
    expect(text).toMatch(/hours with more than 30 +0 % +under 1 % +too few data/);
    expect(text).toMatch(/stale on the worst day +1 +under 5 +within/);
    expect(text).toMatch(/low, medium, high +0, 100, 0 % +about 80, 15, 5 % +too few data/);
    expect(text).toContain("for one operator's place");
  });

  test("below them what was acknowledged, what stands and what is set aside", () => {
    const text = drawn(performanceRows({ figures: all(), problem: null }, 1, "America/Chicago", 80)).join(
      "\n",
    );
    expect(text).toContain("4 d 4 h: hours with more than 30");
    expect(text).toMatch(/200 alarms: the ten most frequent\n +100 alarms: low, medium, high/);
    expect(text).toContain("Time to acknowledge (1 acknowledged, 10 not)");
    expect(text).toContain("medium: half within 1 h, of 1; 10 not acknowledged");
    expect(text).toContain("standing: 0 high, 12 medium, 0 low; 11 of them not acknowledged");
    expect(text).toContain("set aside: 1 shelved, 0 out of service, 0 suppressed");
    expect(text).toContain("1 while shelved, 0 while out of service");
    expect(text).toMatch(/Stale at the end of the window\n +LM-01 cavitation/);
  });
});

describe("p", () => {
  const theme = { colour: false, attributes: false, unicode: true };
  function opened(performance?: FleetSource["performance"]) {
    const source = { ...fixtureSource(fleetView(14)), ...(performance && { performance }) };
    const ends = { onEnd: vi.fn(), onSetAside: vi.fn(), onRedraw: vi.fn() };
    const app = render(<Dashboard source={source} theme={theme} by="Ann" {...ends} />);
    const shows = (wanted: RegExp) =>
      vi.waitFor(() => expect(app.lastFrame()).toMatch(wanted), { timeout: 30_000, interval: 10 });
    return { shows, type: app.stdin.write, ends };
  }

  test("shows the last 24 hours, + and - less and more, Esc comes back; other screens' keys do nothing", async () => {
    const asked: PerformanceWanted[] = [];
    const { shows, type, ends } = opened(async (wanted) => {
      asked.push(wanted);
      return { value: all() };
    });
    await shows(/▸ ■ LM-03/);
    type("p");
    await shows(/announced in 1 d/);
    expect(asked).toMatchObject([
      { toMs: nightMs, fromMs: performanceWindows.map(({ ms }) => nightMs - ms) },
    ]);
    type("-");
    await shows(/announced in 7 d/);
    type("++++");
    await shows(/announced in 8 h/);
    type("\ry-");
    await shows(/announced in 1 d/);
    type("?");
    await shows(/What tarnwatch is/);
    type("\u001b");
    await shows(/announced in 1 d/);
    type("\u001b");
    await shows(/▸ ■ LM-03/);
    type("pq");
    await vi.waitFor(() => expect(ends.onEnd).toHaveBeenCalledWith("quit"));
  });

  test("says why the history cannot be read, and when nothing is kept", async () => {
    const { shows, type } = opened(async () => ({ problem: "main.db: it is damaged" }));
    await shows(/▸ ■ LM-03/);
    type("p");
    await shows(/the alarm history cannot be read: main\.db: it is damaged/);
    cleanup();
    const none = opened(async () => ({ value: performanceWindows.map(() => null) }));
    await none.shows(/▸ ■ LM-03/);
    none.type("p");
    await none.shows(/nothing is kept of this time yet/);
  });

  test("a screen that is left calls off what it had asked for", async () => {
    const { promise, resolve } = Promise.withResolvers<{ value: PerformanceView[] }>();
    let wanted: PerformanceWanted | undefined;
    const { shows, type } = opened((asked) => {
      wanted = asked;
      return promise;
    });
    await shows(/▸ ■ LM-03/);
    type("p");
    await shows(/reading the alarm history/);
    expect(wanted?.isOver?.()).toBe(false);
    type("p");
    await shows(/▸ ■ LM-03/);
    expect(wanted?.isOver?.()).toBe(true);
    resolve({ value: all() });
  });

  test("does nothing where nothing is kept, as in a replay", async () => {
    const { shows, type } = opened();
    await shows(/▸ ■ LM-03/);
    type("p");
    type("\u001b[B");
    await shows(/▸ ▲ LM-07/);
  });
});
