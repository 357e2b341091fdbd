import type { Unit } from "../fleet/unit.ts";
import { electricLines } from "./electrics.ts";
import { expectedLines } from "./expected.ts";
import { geometryLines } from "./geometry.ts";
import { installation, type Measured } from "./installation.ts";
import type { Amounts, Line, Verdict } from "./line.ts";
import { pipeLines } from "./pipes.ts";
import { suctionLines } from "./suction.ts";

/** An installation worked out and judged. */
export interface SiteReport {
  readonly unit: string;
  readonly site: string | null;
  readonly verdict: Verdict;
  readonly lines: readonly Line[];
  /** What was taken for granted where the fleet file says nothing. */
  readonly assumed: readonly string[];
}

const worstFirst: readonly Verdict[] = ["fail", "caution", "unknown", "pass"];

/** The worst of some verdicts; what cannot be judged is better than a caution. */
export function worstOf(verdicts: readonly Verdict[]): Verdict {
  return worstFirst.find((verdict) => verdicts.includes(verdict)) ?? "pass";
}

/** Works out and judges a unit's hydraulics and electrics by its entry in the fleet file and by what its gauges showed. */
export function judgeSite(unit: Unit, measured: Measured, amounts: Amounts): SiteReport {
  const site = installation(unit, measured, amounts);
  const lines = [
    ...geometryLines(site, amounts),
    ...suctionLines(site, amounts),
    ...pipeLines(site, amounts),
    ...expectedLines(site, amounts),
    ...electricLines(site, amounts),
  ];
  return {
    unit: unit.id,
    site: unit.site ?? null,
    verdict: worstOf(lines.map(({ verdict }) => verdict)),
    lines,
    assumed: site.assumed,
  };
}
