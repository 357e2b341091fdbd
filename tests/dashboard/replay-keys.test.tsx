import { cleanup, render } from "ink-testing-library";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { ReplayRequest, ReplayView } from "../../src/collector/replay-view.ts";
import { Dashboard } from "../../src/dashboard/dashboard.tsx";
import { fixtureSource, fleetView, nightMs } from "./fixture.ts";

const theme = { colour: false, attributes: false, unicode: true };
const hour = 3600_000;
/** A busy machine may take its time. */
const patience = { timeout: 30_000, interval: 20 };
const replay: ReplayView = {
  fromMs: nightMs - 20 * hour,
  toMs: nightMs + 4 * hour,
  speed: 60,
  paused: false,
  goingTo: null,
  note: null,
};

afterEach(cleanup);

/** Null: the screen of now. */
function opened(of: ReplayView | null = replay) {
  const asked: ReplayRequest[] = [];
  const source = fixtureSource(fleetView(14, of === null ? {} : { replay: of }));
  const onEnd = vi.fn();
  const app = render(
    <Dashboard
      source={of === null ? source : { ...source, replay: (request) => asked.push(request) }}
      theme={theme}
      onEnd={onEnd}
      onSetAside={vi.fn()}
      onRedraw={vi.fn()}
    />,
  );
  const shows = (wanted: RegExp) => vi.waitFor(() => expect(app.lastFrame() ?? "").toMatch(wanted), patience);
  return { asked, shows, onEnd, source, screen: () => app.lastFrame() ?? "", type: app.stdin.write };
}

describe("the screen of a replay", () => {
  test("says on top that it is one, how it plays, and what part of the recording", async () => {
    const { shows, source } = opened();
    await shows(/replay +plays · 60 × +3 May 07:12 to 4 May 07:12/);
    const goingTo = { timeMs: nightMs + hour, done: 0.456 };
    source.show(fleetView(14, { replay: { ...replay, paused: true, goingTo, speed: "max" } }));
    await shows(/replay +paused · as fast as it can · going to 04:12, 45 %/);
  });

  test("never passes a paused recording off as a screen that has stood still", async () => {
    vi.useFakeTimers({ toFake: ["setInterval", "performance"] });
    try {
      const { screen } = opened({ ...replay, paused: true });
      await vi.advanceTimersByTimeAsync(60_000);
      expect(screen()).not.toContain("old: nothing newer has come");
    } finally {
      vi.useRealTimers();
    }
  });

  test("asks for what its keys stand for; on a unit's screen of this unit", async () => {
    const { asked, shows, type } = opened();
    await shows(/p play · s step · a alarm/);
    type(" psfFaAb");
    await vi.waitFor(() => expect(asked).toHaveLength(8), patience);
    expect(asked.map(({ ask }) => ask)).toEqual([
      "play or pause",
      "play or pause",
      "step",
      "faster",
      "slower",
      "next alarm",
      "last alarm",
      "beginning",
    ]);
    expect(asked[2]).toMatchObject({ unit: null });
    type("\r");
    await shows(/Esc back/);
    type("s");
    await vi.waitFor(() => expect(asked.at(-1)).toMatchObject({ ask: "step", unit: "LM-03" }), patience);
  });

  test("takes a typed time, also where the keys come faster than they are read", async () => {
    const { asked, shows, type, onEnd } = opened();
    await shows(/t time/);
    type("t");
    await shows(/go to _ +14:30, or 2026-05-04 14:30/);
    type("3:99\r");
    await shows(/'3:99' is not a time/);
    type("\u007f\u007f");
    await shows(/go to 3:_/);
    type("3");
    type("0\r");
    await vi.waitFor(
      () => expect(asked).toEqual([{ ask: "go to", timeMs: Date.UTC(2026, 4, 4, 8, 30) }]),
      patience,
    );
    type("t12:00q");
    await shows(/go to 12:00_/);
    type("\u001b[200~:30\r\u001b[201~");
    await shows(/go to 12:00:30_/);
    expect(onEnd).not.toHaveBeenCalled();
    type("\u001b");
    await shows(/q quits/);
    expect(asked).toHaveLength(1);
    type("t\u0003");
    await vi.waitFor(() => expect(onEnd).toHaveBeenCalledWith("SIGINT"), patience);
  });

  test("explains its keys", async () => {
    const { shows, type } = opened();
    type("?");
    await shows(/What tarnwatch is/);
    type("\u001b[6~");
    await shows(/Keys of the replay/);
  });

  test("gives a screen of now none of its keys", async () => {
    const { shows, screen, type } = opened(null);
    await shows(/q quits/);
    type("pt?");
    await shows(/What tarnwatch is/);
    expect(screen()).not.toContain("go to");
  });
});
