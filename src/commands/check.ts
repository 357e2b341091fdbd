import { unnotifiedOn } from "../collector/attach.ts";
import { readOnce } from "../collector/read-once.ts";
import { readTyped, typedTimeForms } from "../dashboard/typed-time.ts";
import { comparePriority, type Priority } from "../terms/alarms.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { CannotWork, print } from "./context.ts";
import { standing, statusJson, statusLines, viewOf } from "./fleet-status.ts";
import { loadFleet } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { readKept } from "./read-kept.ts";
import { stateFolder } from "./state-folder.ts";
import { statusLine } from "./status-line.ts";
import { unreadable } from "./unreadable.ts";

export interface CheckOptions {
  readonly at?: string;
  readonly priority?: Priority;
  readonly json?: boolean;
  readonly line?: boolean;
  readonly state?: string;
}

/** `check`: reads what is there and prints the fleet's status once. 1 where something needs attention. */
export async function check(fleetPath: string | undefined, options: CheckOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const nowMs = Date.now();
  const at = options.at === undefined ? nowMs : instant(options.at, "--at", fleet.timezone, nowMs);
  const folder = stateFolder(fleet, path, options.state);
  const kept = readKept(fleet, folder, at, options.at === undefined);
  const services = [...fleet.services, ...kept.services];
  const read = await withProgress((onProgress) =>
    readOnce(fleet, { toMs: at, clockMs: at, services, kept: kept.units, onProgress }),
  );
  const unnotified = options.at === undefined ? await unnotifiedOn(fleet, folder) : undefined;
  const view = { ...viewOf(fleet, read, at, folder), ...(unnotified && { unnotified }) };
  const nothing = unreadable(view, fleet);
  if (nothing.length > 0) throw new CannotWork(...nothing);
  if (options.line) print(statusLine(view));
  else if (options.json) print(jsonLine(statusJson(view)));
  else for (const line of statusLines(view)) print(line);
  const least = options.priority ?? "low";
  const wrong = view.units
    .flatMap(standing)
    .some((priority) => priority !== "prompt" && comparePriority(priority, least) <= 0);
  return wrong ? 1 : 0;
}

/**
 * An option's time, ms: RFC 3339 with its offset, or as a person types it in `timezone`; a time of the day alone, which
 * is that of `nowMs`, only with that. Throws `CannotWork`.
 */
export function instant(text: string, option: string, timezone: string, nowMs?: number): number {
  const said = `${option} '${visible(text)}'`;
  const typed = readTyped(text, nowMs, timezone);
  if (typed === undefined) {
    const forms = nowMs === undefined ? "2026-05-04 14:30" : typedTimeForms;
    throw new CannotWork(`${said} is not a time; write it like ${forms}, or 2026-05-04T03:12:20Z`);
  }
  if (!typed.isOnce) {
    throw new CannotWork(
      `${said} comes twice or never in ${timezone}, where the clocks change then; write its offset, like 2026-05-04T03:12:20-05:00`,
    );
  }
  return typed.timeMs;
}
