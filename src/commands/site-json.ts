import type { Tried } from "../fleet/what-if.ts";
import type { Line } from "../site/line.ts";
import type { SiteView } from "./site.ts";

/** What `site` shows. */
export interface SiteShown {
  readonly fleet: string;
  /** When and by whom the gauges of the command line were read, and whether that is kept in the fleet file now. */
  readonly read: { readonly on: string; readonly by: string; readonly isKept: boolean };
  /** What is tried: as typed, and as it was understood. */
  readonly whatIf: readonly string[];
  readonly tried: readonly Tried[];
  readonly views: readonly SiteView[];
}

function lineJson({ check, verdict, value, limit, sense, source, note, enter }: Line): unknown {
  return {
    check,
    verdict,
    value: value?.value ?? null,
    limit: limit?.value ?? null,
    sense,
    unit: value?.unit ?? limit?.unit ?? null,
    source,
    note,
    enter,
  };
}

/** Reports as JSON: numbers in stored units, notes in those of display. */
export function siteJson({ fleet, whatIf, tried, views }: SiteShown): unknown {
  return {
    fleet,
    what_if: whatIf,
    tried,
    units: views.map(({ report, before, measured }) => ({
      id: report.unit,
      site: report.site,
      verdict: report.verdict,
      lines: report.lines.map(lineJson),
      assumed: report.assumed,
      measured,
      ...(before !== null && { before: { verdict: before.verdict, lines: before.lines.map(lineJson) } }),
    })),
  };
}
