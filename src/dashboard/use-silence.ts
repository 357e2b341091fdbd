import { useEffect, useState } from "react";
import type { FleetView } from "../collector/fleet-view.ts";
import { second } from "../terms/time.ts";
import type { FleetSource } from "./source.ts";

const lookEveryMs = 5 * second;
/** A view comes about once a second; so long without one means that what is shown has stood still. */
const silentAfterMs = 15 * second;

/** How long no new view has come, in steps of 5 s; 0 while they come as they should, or a replay is paused. */
export function useSilence(source: FleetSource, view: FleetView): number {
  const [silentMs, setSilentMs] = useState(0);
  const rests = view.replay?.paused === true && view.replay.goingTo === null;
  useEffect(() => {
    let sinceMs = performance.now();
    setSilentMs(0);
    const end = source.subscribe(() => {
      sinceMs = performance.now();
      setSilentMs(0);
    });
    if (rests) return end;
    const look = setInterval(() => {
      const passedMs = performance.now() - sinceMs;
      if (passedMs >= silentAfterMs) setSilentMs(Math.floor(passedMs / lookEveryMs) * lookEveryMs);
    }, lookEveryMs);
    return () => {
      end();
      clearInterval(look);
    };
  }, [source, rests]);
  return silentMs;
}
