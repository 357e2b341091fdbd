import { useEffect, useState } from "react";
import type { FleetView } from "../collector/fleet-view.ts";
import { minute, second } from "../terms/time.ts";
import type { FleetSource } from "./source.ts";

const shortestMs = second;
/** A replay is at once where it is asked to be; it sends views no oftener than is good. */
const shortestInReplayMs = second / 25;

/** Where the screen is read out: each drawing interrupts who listens, so only a change of alarms comes sooner. */
const shortestReadOutMs = minute;

/**
 * The newest view, drawn at most once a second: the first after a pause at once, the rest together. With `linear` at
 * most once a minute, unless an alarm, a unit's state or a replay changes.
 */
export function useFleetView(source: FleetSource, linear = false): FleetView {
  const [view, setView] = useState(() => source.current());
  useEffect(() => {
    let drawnMs = Number.NEGATIVE_INFINITY;
    let waiting: NodeJS.Timeout | undefined;
    let matters = "";
    const draw = (): void => {
      waiting = undefined;
      drawnMs = performance.now();
      setView(source.current());
    };
    const end = source.subscribe(() => {
      if (waiting !== undefined) return;
      if (linear) {
        const now = whatMatters(source.current());
        if (now === matters && performance.now() < drawnMs + shortestReadOutMs) return;
        matters = now;
      }
      const everyMs = source.replay === undefined ? shortestMs : shortestInReplayMs;
      const waitMs = drawnMs + everyMs - performance.now();
      if (waitMs <= 0) draw();
      else waiting = setTimeout(draw, waitMs);
    });
    setView(source.current());
    return () => {
      end();
      clearTimeout(waiting);
    };
  }, [source, linear]);
  return view;
}

/** What a person who listens is to hear of at once. */
function whatMatters({ units, replay, notices, catchingUp }: FleetView): string {
  const standing = units.map(({ id, state, problem, alarms }) => [
    id,
    state,
    problem,
    alarms.map(({ alarm, priority, state: stands }) => `${alarm} ${priority} ${stands}`),
  ]);
  return JSON.stringify([
    standing,
    notices,
    catchingUp === undefined,
    replay?.paused,
    replay?.goingTo === null,
  ]);
}
