import { atmosphericPressureKpa } from "../physics/atmosphere.ts";
import type { Installation } from "./installation.ts";
import { type Amounts, type Line, listed } from "./line.ts";

/** As bad as an entry that is not written may plausibly be (house choice): a pond in the mountains, and one that falls in a dry summer. */
const worstElevationM = 2500;
const worstFallM = 1;

/** A key that is not written, and the installation with the worst that it may plausibly hold. */
interface Unwritten {
  readonly key: string;
  readonly worst: string;
  readonly change: Partial<Installation>;
}

function unwritten({ unit }: Installation, a: Amounts): readonly Unwritten[] {
  const elevation: Unwritten = {
    key: "elevation",
    worst: `at an elevation of ${a.length(worstElevationM).text}`,
    change: { airKpa: atmosphericPressureKpa(worstElevationM) },
  };
  const falls: Unwritten = {
    key: "water.falls",
    worst: `with water that falls by ${a.length(worstFallM).text}`,
    change: { fallsM: worstFallM },
  };
  return [
    ...(unit.elevationM === undefined ? [elevation] : []),
    ...(unit.water.fallsM === undefined ? [falls] : []),
  ];
}

/** The lines that `judge` makes; one that passes only by what was taken for granted cannot be judged, and asks for what decides it. */
export function withoutLuck(
  site: Installation,
  a: Amounts,
  judge: (site: Installation, a: Amounts) => readonly Line[],
): readonly Line[] {
  const lines = judge(site, a);
  const lacking = unwritten(site, a);
  if (lacking.length === 0) return lines;
  const tried = (which: readonly Unwritten[]): ReadonlyMap<string, Line> =>
    new Map(
      judge(Object.assign({}, site, ...which.map(({ change }) => change)), a).map((line) => [
        line.check,
        line,
      ]),
    );
  const alone = lacking.map((one) => ({ which: [one], lines: tried([one]) }));
  const together = { which: lacking, lines: tried(lacking) };
  return lines.map((line) => {
    const turns = ({ lines: others }: typeof together): boolean =>
      (others.get(line.check)?.verdict ?? "pass") !== "pass";
    if (line.verdict !== "pass" || !turns(together)) return line;
    const each = alone.filter(turns).flatMap(({ which }) => which);
    const deciding = each.length > 0 ? each : lacking;
    const keys = deciding.map(({ key }) => key);
    return {
      ...line,
      verdict: "unknown",
      enter: keys,
      note: `Enter ${listed(keys)}: it would not pass ${listed(deciding.map(({ worst }) => worst))}.`,
    };
  });
}
