import { useEffect, useState } from "react";
import type { FleetView } from "../collector/fleet-view.ts";
import { second } from "../terms/time.ts";
import type { FleetSource } from "./source.ts";
import { steadied } from "./steady.ts";

const shortestMs = second;
/** A replay is at once where it is asked to be; it sends views no oftener than is good. */
const shortestInReplayMs = second / 25;

/** The newest view, drawn at most once a second: the first after a pause at once, the rest together. */
export function useFleetView(source: FleetSource): FleetView {
  const [view, setView] = useState(() => source.current());
  useEffect(() => {
    let drawnMs = Number.NEGATIVE_INFINITY;
    let waiting: NodeJS.Timeout | undefined;
    const draw = (): void => {
      waiting = undefined;
      drawnMs = performance.now();
      setView((shown) => steadied(shown, source.current()));
    };
    const end = source.subscribe(() => {
      if (waiting !== undefined) return;
      const everyMs = source.replay === undefined ? shortestMs : shortestInReplayMs;
      const waitMs = drawnMs + everyMs - performance.now();
      if (waitMs <= 0) draw();
      else waiting = setTimeout(draw, waitMs);
    });
    setView((shown) => steadied(shown, source.current()));
    return () => {
      end();
      clearTimeout(waiting);
    };
  }, [source]);
  return view;
}
