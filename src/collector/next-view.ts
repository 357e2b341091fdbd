import { changeBetween, changed } from "./change.ts";
import type { FleetView } from "./fleet-view.ts";
import type { FromWorker } from "./messages.ts";

/** What is sent of a fleet's views: the first whole, of each next one what has changed. */
export interface ViewMessages {
  /** Brings whom all was sent before to `view`; null where that is the same. */
  next(view: FleetView): FromWorker | null;
  /** The last view that was sent; null before the first. */
  last(): FleetView | null;
}

export function startViewMessages(): ViewMessages {
  // A copy: parts of a view may be parts of the state behind it, which goes on.
  let sent: FleetView | null = null;
  return {
    next: (view) => {
      if (sent === null) {
        sent = structuredClone(view);
        return { kind: "view", view: sent };
      }
      const found = changeBetween(sent, view);
      if (found === undefined) return null;
      const change = structuredClone(found);
      sent = changed(sent, change) as FleetView;
      return { kind: "change", change };
    },
    last: () => sent,
  };
}
