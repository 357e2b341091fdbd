import { useMemo, useRef } from "react";
import type { FleetView } from "../collector/fleet-view.ts";
import { steadied } from "./steady.ts";

/** The view as its rows show it: see `steadied`. */
export function useSteady(view: FleetView): FleetView {
  const shown = useRef<FleetView | null>(null);
  return useMemo(() => {
    shown.current = steadied(shown.current, view);
    return shown.current;
  }, [view]);
}
