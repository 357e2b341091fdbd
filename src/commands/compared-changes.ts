import type { Compared } from "../score/compare.ts";
import type { Figures } from "../score/figures.ts";
import type { Score } from "../score/score.ts";
import type { AlarmName } from "../terms/alarms.ts";
import { minute } from "../terms/time.ts";

/** What B does otherwise than A, a line an alarm: `suction-air: median delay +1.0 min`; one line where nothing. */
export function changeLines(
  compared: readonly Compared[],
  scores: readonly [Score, Score] | undefined,
): string[] {
  const raised = new Map(compared.map((one) => [one.alarm, raisedWords(one)]));
  const scored = new Map<AlarmName, readonly string[]>(
    scores?.[0].alarms.map(({ alarm, figures }, i) => [
      alarm,
      scoredWords(figures, scores[1].alarms[i].figures),
    ]),
  );
  const lines = [...new Set([...scored.keys(), ...raised.keys()])].flatMap((alarm) => {
    const words = [...(raised.get(alarm) ?? []), ...(scored.get(alarm) ?? [])];
    return words.length === 0 ? [] : [`${alarm}: ${words.join(", ")}`];
  });
  if (lines.length > 0) return lines;
  return [
    scores === undefined
      ? "nothing changed: B raised what A raised, within 10 min"
      : "nothing changed: B raised what A raised, within 10 min, and scored the same",
  ];
}

function raisedWords({ onlyA, onlyB }: Compared): readonly string[] {
  return [
    ...(onlyA.length === 0 ? [] : [`${onlyA.length} raised only in A`]),
    ...(onlyB.length === 0 ? [] : [`${onlyB.length} raised only in B`]),
  ];
}

function scoredWords(a: Figures, b: Figures): readonly string[] {
  const more = (what: string, by: number, digits: number, unit = ""): readonly string[] => {
    const said = by.toFixed(digits);
    return Number(said) === 0 ? [] : [`${what} ${by > 0 ? "+" : ""}${said}${unit}`];
  };
  const delay =
    a.delayMedianMs === null || b.delayMedianMs === null ? 0 : (b.delayMedianMs - a.delayMedianMs) / minute;
  return [
    ...more("caught", b.caught - a.caught, 0),
    ...more("false", b.falseAlarms - a.falseAlarms, 0),
    ...more("median delay", delay, 1, " min"),
  ];
}
