import type { FleetView } from "../collector/fleet-view.ts";
import { moment } from "./local-time.ts";

/** That nobody is notified although the fleet file says how, since when where that is known, and why; null where all is well. */
export function unnotifiedWords({ unnotified, clockMs, timezone }: FleetView): string | null {
  if (unnotified === undefined) return null;
  const { sinceMs } = unnotified;
  const since = sinceMs === null ? "" : `, since ${moment(sinceMs, clockMs, timezone)} at the latest`;
  return `nobody is notified: no \`collect\` runs${since}`;
}
