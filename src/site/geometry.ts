import { carriedHeadM, type Installation } from "./installation.ts";
import type { Amounts, Line } from "./line.ts";

/** Whether the lift is more than the air carries, or than its pipe is long: no vacuum follows from it. */
export function isLiftImpossible({ unit, airKpa, coldestC }: Installation): boolean {
  const { suctionLiftM: lift, suctionLengthM } = unit.piping;
  if (lift === undefined) return false;
  return (
    lift >= carriedHeadM(airKpa, coldestC) || (suctionLengthM ?? Number.POSITIVE_INFINITY) < Math.abs(lift)
  );
}

/** Whether the two heads of the pump's curve cannot be of one pump. */
export function isCurveImpossible({ unit: { pump } }: Installation): boolean {
  const { shutoffHeadM, ratedHeadM } = pump;
  return shutoffHeadM !== undefined && ratedHeadM !== undefined && ratedHeadM >= shutoffHeadM;
}

/** How far the outlet stands in the air at the lowest water, m; 0 where it stays under water or nothing is said of it. */
export function outletInAirM({ unit, fallsM }: Installation): number {
  return Math.max(0, fallsM - (unit.dischargeDepthM ?? Number.POSITIVE_INFINITY));
}

/** What cannot be as it is written: a line each; none where everything can. */
export function geometryLines(site: Installation, a: Amounts): Line[] {
  const { unit, airKpa, coldestC, warmestC, fallsM } = site;
  const { suctionLiftM: lift, suctionLengthM, dischargeLengthM } = unit.piping;
  const { shutoffHeadM, ratedHeadM } = unit.pump;
  const length = (metres: number): string => a.length(metres).text;
  const found: string[] = [];
  if (lift !== undefined) {
    const carried = carriedHeadM(airKpa, coldestC);
    if (lift >= carried)
      found.push(
        `No pump draws water up ${length(lift)}: at this elevation the air carries ${length(carried)}. Set the pump lower.`,
      );
    if (suctionLengthM !== undefined && suctionLengthM < Math.abs(lift)) {
      const where = lift < 0 ? "above" : "below";
      found.push(
        `A suction pipe of ${length(suctionLengthM)} does not reach water ${length(Math.abs(lift))} ${where} the pump: measure both again.`,
      );
    } else if (suctionLengthM !== undefined && lift >= 0 && suctionLengthM <= lift + fallsM && fallsM > 0) {
      found.push(
        `When the water has fallen by ${length(fallsM)} the suction pipe of ${length(suctionLengthM)} ends above it: lengthen it.`,
      );
    }
    const down = lift + (unit.dischargeDepthM ?? 0);
    if (dischargeLengthM !== undefined && unit.dischargeDepthM !== undefined && dischargeLengthM < down) {
      found.push(
        `A discharge pipe of ${length(dischargeLengthM)} does not reach an outlet ${length(down)} below the pump: measure both again.`,
      );
    }
  }
  const inAirM = outletInAirM(site);
  if (inAirM > 0)
    found.push(
      `At the lowest water the outlet stands ${length(inAirM)} in the air: it brings no gas into the water, and the net static head is not zero. Lay it deeper.`,
    );
  if (shutoffHeadM !== undefined && ratedHeadM !== undefined && isCurveImpossible(site)) {
    found.push(
      `A rated head of ${length(ratedHeadM)} does not lie below the shutoff head of ${length(shutoffHeadM)}: look both up in the maker's curve.`,
    );
  }
  if (coldestC > warmestC) found.push("The coldest water is warmer than the warmest: exchange them.");
  return found.map((note) => ({
    check: "impossible",
    verdict: "fail",
    value: null,
    limit: null,
    sense: null,
    source: "geometry",
    note,
    enter: [],
  }));
}
