import type { Unit } from "../fleet/unit.ts";
import type { Channel } from "../terms/channels.ts";
import { electricLines } from "./electrics.ts";
import { expectedLines } from "./expected.ts";
import { geometryLines } from "./geometry.ts";
import { type Installation, installation, type Measured } from "./installation.ts";
import type { Amounts, Line, Verdict } from "./line.ts";
import { pipeLines } from "./pipes.ts";
import { suctionLines } from "./suction.ts";
import { withoutLuck } from "./taken-for-granted.ts";
import { stillHolding } from "./tried.ts";

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
  return judged(installation(unit, measured, amounts), amounts);
}

/**
 * Works out and judges a unit as it would be with what is tried. A reading of the unit as it is counts where that changes
 * nothing of what the gauge ought to show.
 */
export function judgeTried(unit: Unit, tried: Unit, measured: Measured, amounts: Amounts): SiteReport {
  const now = installation(unit, measured, amounts);
  const still = stillHolding(measured, now, installation(tried, measured, amounts));
  const withheld = Object.keys(measured).filter((channel) => !(channel in still)) as Channel[];
  return judged({ ...installation(tried, still, amounts), withheld }, amounts);
}

function judged(site: Installation, amounts: Amounts): SiteReport {
  const { unit } = site;
  const lines = [
    ...geometryLines(site, amounts),
    ...withoutLuck(site, amounts, suctionLines),
    ...withoutLuck(site, amounts, pipeLines),
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
