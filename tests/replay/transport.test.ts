import { afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import type { ReplayRequest, ReplaySpeed } from "../../src/collector/replay-view.ts";
import type { Recording } from "../../src/replay/recording.ts";
import { startTransport, type Transport } from "../../src/replay/transport.ts";
import { primeLostAndFound } from "../support/fleets.ts";
import { clean, midnight, readings } from "../support/unit-days.ts";
import { recorded } from "./recorded.ts";

/** A busy machine may take its time. */
const patience = { timeout: 30_000, interval: 20 };

const at = (time: string) => Date.parse(`2026-05-04T${time}Z`);

let recording: Recording;
beforeAll(async () => {
  ({ recording } = await recorded([{ id: "LM-01", batch: readings(primeLostAndFound) }]));
});

let transport: Transport | undefined;
afterEach(() => transport?.close());

/** A transport over an hour and twenty minutes of one unit that loses its prime at 01:00. */
function started(speed: ReplaySpeed = 1) {
  const playing = startTransport(recording, speed, () => undefined);
  transport = playing;
  const ask = (...requests: ReplayRequest[]) => requests.forEach(playing.request);
  const arrives = (timeMs: number) =>
    vi.waitFor(() => {
      const { clockMs, replay } = playing.view();
      expect({ clockMs, goingTo: replay?.goingTo }).toEqual({ clockMs: timeMs, goingTo: null });
    }, patience);
  return { ask, arrives, view: playing.view, replay: () => playing.view().replay };
}
const goTo = (time: string): ReplayRequest => ({ ask: "go to", timeMs: at(time) });
const pause: ReplayRequest = { ask: "play or pause" };
const step: ReplayRequest = { ask: "step", unit: null };

describe("a replay", () => {
  it("plays to the end by itself, and stays there paused", async () => {
    const { arrives, ask, replay } = started("max");
    await arrives(at("01:19:50"));
    expect(replay()).toMatchObject({ fromMs: midnight, toMs: at("01:19:50"), speed: "max", paused: true });
    ask(pause);
    expect(replay()).toMatchObject({ paused: true, note: "at the end; b plays from the beginning" });
  });

  it("runs log time by its speed", async () => {
    const { ask, view } = started(600);
    await vi.waitFor(() => expect(view().clockMs).toBeGreaterThan(midnight), patience);
    const { clockMs } = view();
    const beganMs = performance.now();
    // Ten minutes take a second; a busy machine may be some times slower, and is never faster.
    await vi.waitFor(() => expect(view().clockMs - clockMs).toBeGreaterThanOrEqual(600_000), {
      timeout: 30_000,
      interval: 20,
    });
    ask(pause);
    expect(view().clockMs - clockMs).toBeLessThanOrEqual(600 * (performance.now() - beganMs + 250));
  });

  it("goes to the next alarm and back, shows it standing, and waits there", async () => {
    const { ask, arrives, view, replay } = started();
    ask({ ask: "next alarm", unit: null });
    await arrives(at("01:00:30"));
    expect(view().units[0].alarms.map(({ alarm }) => alarm)).toEqual(["lost-prime"]);
    expect(replay()).toMatchObject({ paused: true, note: "LM-01 lost prime raised" });
    ask({ ask: "next alarm", unit: "LM-01" });
    expect(replay()?.note).toBe("no later alarm");
    ask({ ask: "last alarm", unit: null });
    expect(replay()?.note).toBe("no earlier alarm");
  });

  it("steps by a reading, also the last one", async () => {
    const { ask, arrives, replay } = started();
    ask(goTo("00:30:05"));
    await arrives(at("00:30:05"));
    ask(step);
    await arrives(at("00:30:10"));
    ask(goTo("01:19:45"));
    await arrives(at("01:19:45"));
    ask(step);
    await arrives(at("01:19:50"));
    ask(step);
    expect(replay()).toMatchObject({ paused: true, note: "no later reading" });
  });

  it("goes to a time anywhere, kept within the recording", async () => {
    const { ask, arrives, view } = started();
    ask(goTo("01:10:00"), goTo("00:20:00"));
    await arrives(at("00:20:00"));
    expect(view().units[0].alarms).toEqual([]);
    ask(goTo("23:00:00"));
    await arrives(at("01:19:50"));
    ask({ ask: "go to", timeMs: 0 });
    await arrives(midnight);
  });

  it("plays on from where it was paused, and anew from the beginning", async () => {
    const { ask, arrives, view, replay } = started();
    ask(goTo("01:05:00"));
    await arrives(at("01:05:00"));
    ask(pause);
    await vi.waitFor(() => expect(view().clockMs).toBeGreaterThan(at("01:05:00")), patience);
    ask({ ask: "beginning" });
    await vi.waitFor(() => expect(view().clockMs).toBeLessThan(at("00:01:00")), patience);
    expect(replay()?.paused).toBe(false);
  });

  it("is made faster and slower in steps between real time and as fast as it can", () => {
    const { ask, replay } = started(45);
    const speeds = (request: ReplayRequest, times: number) =>
      Array.from({ length: times }, () => {
        ask(request);
        return replay()?.speed;
      });
    expect(speeds({ ask: "faster" }, 8)).toEqual([60, 120, 300, 600, 1800, 3600, "max", "max"]);
    expect(speeds({ ask: "slower" }, 12)).toEqual([3600, 1800, 600, 300, 120, 60, 30, 10, 5, 2, 1, 1]);
  });
});

describe("a silence of hours", () => {
  it("is leapt over", async () => {
    const { recording: night } = await recorded([
      { id: "LM-01", batch: readings([{ seconds: 10, values: clean }], 10) },
      { id: "LM-02", batch: readings([{ seconds: 20, values: clean }], 10, at("09:00:00")) },
    ]);
    transport = startTransport(night, 60, () => undefined);
    await vi.waitFor(
      () => expect(transport?.view().clockMs).toBeGreaterThanOrEqual(at("09:00:00")),
      patience,
    );
  });
});
