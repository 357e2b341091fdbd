import type { LogStatus } from "../acquire/log-status.ts";
import type { LogView } from "./fleet-view.ts";

/** Rejected rows that a view carries. */
const shown = 5;

/** What a view tells of a unit's log. */
export function logView(status: LogStatus): LogView {
  const { files, rows, repeats, late, rejected, newestRejected } = status;
  return { files, rows, repeats, late, rejected, newestRejected: newestRejected.slice(0, shown) };
}
