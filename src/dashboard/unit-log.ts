import type { UnitView } from "../collector/fleet-view.ts";
import { alarmNames } from "../terms/alarms.ts";
import { age } from "../terms/time.ts";
import { line } from "./line.ts";
import { paragraph, type Section } from "./section.ts";
import { alarmWords } from "./words.ts";

/** What cannot be judged at this unit, and why. */
export function quietRulesSection(unit: UnitView, width: number): Section {
  const { quiet } = unit;
  const count = quiet.length === 0 ? "" : `: ${quiet.length} of ${alarmNames.length} alarms`;
  return {
    title: `What is not watched here, and why${count}`,
    lines:
      quiet.length === 0
        ? [line(unit.catchingUp ? "   not known yet" : "   every rule has what it needs")]
        : [...Map.groupBy(quiet, ({ why }) => why)].flatMap(([why, rules]) => [
            ...paragraph("   ", why, width),
            ...paragraph(
              "     ",
              rules.map(({ alarm }) => alarmWords(alarm).toLowerCase()).join(", "),
              width,
            ),
          ]),
  };
}

/** How the unit's log has been read. */
export function logSection(unit: UnitView, width: number): Section {
  const { log } = unit;
  const counts = [
    `${count(log.rows)} rows`,
    `${count(log.repeats)} repeats`,
    `${count(log.late)} late`,
    `${count(log.rejected)} rejected`,
    ...(unit.intervalMs === null ? [] : [`a reading every ${age(unit.intervalMs)}`]),
  ].join(" · ");
  return {
    title: "Log",
    lines: [
      ...paragraph("   ", log.files.length === 0 ? "no file found" : log.files.join(" · "), width),
      line(`   ${counts}`),
      ...log.newestRejected.flatMap(({ file, line: row, why }) =>
        paragraph(`   rejected  `, `${file}:${row} ${why}`, width),
      ),
    ],
  };
}

function count(n: number): string {
  return n.toLocaleString("en-US").replaceAll(",", " ");
}
