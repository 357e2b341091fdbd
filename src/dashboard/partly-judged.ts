import type { UnitView } from "../collector/fleet-view.ts";
import { alarmNames } from "../terms/alarms.ts";
import { counted } from "../terms/text.ts";

/** In place of the state's mark at a unit that is quiet only as far as it can be judged. */
export const partlyJudgedMark = "?";

/**
 * The alarms that ought to be judged here and cannot be. Of a unit that is laid up, has no reading or is still being
 * read, its state tells more.
 */
function unseen({ quiet, state, catchingUp, lastReadingMs }: UnitView): UnitView["quiet"] {
  if (lastReadingMs === null || catchingUp || state === "laid up") return [];
  return quiet.filter(({ lacks, isAnew }) => lacks !== undefined || isAnew);
}

export function isPartlyJudged(unit: UnitView): boolean {
  return unseen(unit).length > 0;
}

/** `9 of 27 alarms cannot be judged: no motor temperature, no discharge pressure`; null where all that are meant to be can. */
export function partlyJudgedWords(unit: UnitView): string | null {
  const [count, lacks] = parts(unit);
  return count === 0 ? null : `${count} of ${alarmNames.length} alarms cannot be judged: ${lacks}`;
}

function parts(unit: UnitView): readonly [count: number, lacks: string] {
  const alarms = unseen(unit);
  const lacks = new Set(alarms.flatMap(({ lacks }) => lacks ?? []));
  const anew = alarms.filter(({ isAnew }) => isAnew);
  return [
    alarms.length,
    [
      ...[...lacks].map((what) => `no ${what}`),
      ...anew.map(({ alarm, why }) => `${alarm.replaceAll("-", " ")} is ${why}`),
    ].join(", "),
  ];
}

/** So many units are named where several lack the same. */
const mostNamed = 3;

/** The same of several units, those for which it is most alarms first: a line each for what they lack alike. */
export function partlyJudgedLines(units: readonly UnitView[]): readonly string[] {
  const told = units
    .map((unit) => ({ id: unit.id, parts: parts(unit) }))
    .filter(({ parts: [count] }) => count > 0)
    .toSorted((a, b) => b.parts[0] - a.parts[0]);
  const alike = Map.groupBy(told, ({ parts: [count, lacks] }) => `${count} ${lacks}`);
  return [...alike.values()].map((group) => {
    const [count, lacks] = group[0]?.parts ?? [0, ""];
    const named = group.slice(0, mostNamed).map(({ id }) => id);
    const more = group.length > mostNamed ? ` and ${counted(group.length - mostNamed, "more unit")}` : "";
    return `${count} of ${alarmNames.length} alarms cannot be judged at ${named.join(", ")}${more}: ${lacks}`;
  });
}
