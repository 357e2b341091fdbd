import type { CommonCause, FleetView } from "../../collector/fleet-view.ts";
import { age, minute } from "../../terms/time.ts";
import { type Line, line } from "../line.ts";
import { moment } from "../local-time.ts";
import { paragraph } from "../section.ts";
import { alarmWords } from "../words.ts";
import type { SheetGroup, SheetItem } from "./sheet.ts";

/** What stands, as an item of a list. */
interface Standing {
  /** Absent where nothing stands. */
  readonly alarm?: CommonCause["alarm"];
  readonly item: SheetItem;
}

/** What stands, that of one likely cause over a site first and under a line of its own, the rest as it is. */
export function commonCauseGroups(
  over: readonly Line[],
  standing: readonly Standing[],
  view: FleetView,
  width: number,
): readonly SheetGroup[] {
  const groups: SheetGroup[] = [];
  let others = standing;
  for (const cause of view.commonCauses ?? []) {
    const here = others.filter(({ alarm, item }) => alarm === cause.alarm && isAt(cause, item));
    if (here.length === 0) continue;
    others = others.filter((one) => !here.includes(one));
    groups.push({ over, heading: commonCauseLines(cause, view, width), items: here.map(({ item }) => item) });
  }
  const heading = groups.length === 0 ? [] : [line(`   each by itself: ${others.length}`)];
  return [...groups, { over, heading, items: others.map(({ item }) => item) }];
}

function isAt({ units }: CommonCause, { unit }: SheetItem): boolean {
  return unit !== null && units.includes(unit);
}

/** `4 units at Otter Pool: Readings stale since 03:10 (within 2 min): one common cause likely: power or the line`. */
function commonCauseLines(
  { site, alarm, units, fromMs, toMs, likely }: CommonCause,
  view: FleetView,
  width: number,
): readonly Line[] {
  const since = moment(fromMs, view.clockMs, view.timezone);
  const within = age(Math.max(1, Math.ceil((toMs - fromMs) / minute)) * minute);
  const what = `${units.length} units at ${site}: ${alarmWords(alarm)} since ${since} (within ${within})`;
  return paragraph("   ", `${what}: one common cause likely: ${likely}`, width);
}
