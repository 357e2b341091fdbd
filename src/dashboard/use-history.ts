import { useEffect, useRef, useState } from "react";
import type { UnitHistory } from "../collector/fleet-view.ts";
import type { FleetSource } from "./source.ts";

/**
 * The chosen unit's past up to `clockMs`, asked for anew when the unit, the reach or the width changes
 * and when a point's worth of time has passed. Null until the first answer; an answer that was
 * overtaken is dropped.
 */
export function useHistory(
  source: FleetSource,
  unit: string | null,
  clockMs: number,
  reachMs: number,
  points: number,
): UnitHistory | null {
  const [history, setHistory] = useState<UnitHistory | null>(null);
  const asked = useRef(0);
  const stepMs = reachMs / points;
  const toMs = Math.ceil(clockMs / stepMs) * stepMs;
  useEffect(() => {
    if (unit === null) return;
    asked.current += 1;
    const mine = asked.current;
    const keep = (answer: UnitHistory): void => {
      if (mine === asked.current) setHistory(answer);
    };
    // A past that cannot be read leaves the charts as they were; the readings above them still tell.
    source.history(unit, toMs - reachMs, toMs, points).then(keep, () => undefined);
  }, [source, unit, toMs, reachMs, points]);
  return history;
}
