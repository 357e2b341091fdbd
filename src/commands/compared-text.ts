import type { Compared } from "../score/compare.ts";
import type { Figures } from "../score/figures.ts";
import type { Score } from "../score/score.ts";
import { minute } from "../terms/time.ts";
import { changeLines } from "./compared-changes.ts";
import { listed, toldLine } from "./score-lines.ts";
import { table } from "./table.ts";

/** Some figures of two scores side by side, a line an alarm: of A, of B, and what B has more. */
function sideBySide(
  [a, b]: readonly [Score, Score],
  heads: readonly string[],
  pick: (of: Figures) => readonly (number | undefined)[],
  digits: number,
): string[] {
  const cells = (inA: Figures, inB: Figures): string[] =>
    heads.flatMap((_, i) => {
      const [x, y] = [pick(inA)[i], pick(inB)[i]];
      const difference = x === undefined || y === undefined ? undefined : y - x;
      const sign = difference !== undefined && difference > 0 ? "+" : "";
      return [x, y, difference].map((value, part) =>
        value === undefined ? "–" : `${part === 2 ? sign : ""}${value.toFixed(digits)}`,
      );
    });
  const touched = ({ faults, caught, falseAlarms }: Figures) => faults + caught + falseAlarms > 0;
  return table([
    ["alarm", ...heads.flatMap((head) => [`${head} A`, "B", "B − A"])],
    ...a.alarms.flatMap(({ alarm, figures }, i) => {
      const other = b.alarms[i].figures;
      return touched(figures) || touched(other) ? [[alarm, ...cells(figures, other)]] : [];
    }),
    ["all", ...cells(a.total, b.total)],
  ]);
}

/** What changed between two runs, then both side by side, as lines of plain text; their scores too, where there is a truth. */
export function comparedLines(
  compared: readonly Compared[],
  scores: readonly [Score, Score] | undefined,
): string[] {
  const rows = compared.map(({ alarm, a, b, onlyA, onlyB }) => ({
    alarm,
    counts: [a, b, onlyA.length, onlyB.length],
  }));
  const all = [0, 1, 2, 3].map((i) => rows.reduce((sum, { counts }) => sum + counts[i], 0));
  return [
    ...changeLines(compared, scores),
    "",
    ...table([
      ["raised", "A", "B", "only in A", "only in B"],
      ...[...rows, { alarm: "all", counts: all }].map(({ alarm, counts }) => [alarm, ...counts.map(String)]),
    ]),
    ...(scores === undefined
      ? []
      : [
          "",
          ...sideBySide(scores, ["caught", "missed", "false"], (f) => [f.caught, f.missed, f.falseAlarms], 0),
          "",
          ...sideBySide(
            scores,
            ["median delay, min"],
            (f) => [f.delayMedianMs === null ? undefined : f.delayMedianMs / minute],
            1,
          ),
          "",
          ...sideBySide(
            scores,
            ["recall", "precision", "F1"],
            (f) => [f.recall?.value, f.precision?.value, f.f1?.value],
            3,
          ),
        ]),
    ...listed(
      "only in A",
      compared.flatMap(({ onlyA }) => onlyA.map(toldLine)),
    ),
    ...listed(
      "only in B",
      compared.flatMap(({ onlyB }) => onlyB.map(toldLine)),
    ),
  ];
}
