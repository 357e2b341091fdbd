import { setImmediate as nextTurn } from "node:timers/promises";
import { render } from "ink-testing-library";
import { expect, vi } from "vitest";
import { Dashboard } from "../../src/dashboard/dashboard.tsx";
import type { FleetSource } from "../../src/dashboard/source.ts";
import { fixtureSource, fleetView } from "./fixture.ts";

const theme = { colour: false, attributes: false, unicode: true };

/** Keys by the bytes a terminal sends for them (xterm's control sequences). */
export const key = {
  down: "\u001b[B",
  up: "\u001b[A",
  left: "\u001b[D",
  right: "\u001b[C",
  end: "\u001b[F",
  home: "\u001b[H",
  esc: "\u001b",
  pageDown: "\u001b[6~",
  enter: "\r",
  tab: "\t",
};

const now = performance.now.bind(performance);
let passedMs = 0;
let clock = now;

/** Lets the time pass by which it is told whether a person can have read something. */
export function passTime(ms: number): void {
  if (!vi.isMockFunction(performance.now)) [passedMs, clock] = [0, now];
  passedMs += ms;
  vi.spyOn(performance, "now").mockImplementation(() => clock() + passedMs);
}

/** From here on only `passTime` lets that time pass, however slow the machine is. */
export function stopTime(): void {
  const stoppedMs = now();
  passTime(0);
  clock = () => stoppedMs;
}

/** The dashboard over a source whose view is set by hand, used by Ann. */
export function opened(view = fleetView(14), say?: FleetSource["say"]) {
  return openedOn({ ...fixtureSource(view), ...(say && { say }) });
}

export function openedOn<S extends FleetSource>(source: S) {
  const ends = { onEnd: vi.fn(), onSetAside: vi.fn(), onRedraw: vi.fn() };
  const app = render(<Dashboard source={source} theme={theme} by="Ann" {...ends} />);
  const screen = (): string => app.lastFrame() ?? "";
  const shows = (wanted: string | RegExp) =>
    vi.waitFor(() => expect(screen()).toMatch(wanted), { timeout: 30_000, interval: 10 });
  /** Types each key once the screen shows what the one before led to. */
  const steps = async (...pairs: readonly (readonly [string, string | RegExp])[]): Promise<void> => {
    for (const [typed, wanted] of pairs) {
      // A key is one of a burst where another came in the same turn of the event loop.
      await nextTurn();
      app.stdin.write(typed);
      await shows(wanted);
    }
  };
  const resize = (columns: number): void => {
    Object.defineProperty(app.stdout, "columns", { value: columns, configurable: true });
    app.stdout.emit("resize");
  };
  return { source, ends, screen, shows, steps, resize, type: app.stdin.write };
}
