import { ruleSettings } from "../../detect/rules.ts";
import { fleetSchema } from "../../fleet/fleet-schema.ts";
import { type KeyTold, keysOf } from "../../fleet/json-schema.ts";
import { defaultsSchema } from "../../fleet/unit-schema.ts";
import { counted, visible } from "../../terms/text.ts";
import { inline, scalar } from "./column-lines.ts";

/** A unit as its fleet file is to say it. */
export interface UnitText {
  readonly id: string;
  readonly why: string;
  readonly logs: number;
  readonly log?: string;
  readonly sampleInterval?: string;
  /** Its log's header, which tells it from units of other loggers. */
  readonly header: string;
  /** Lines under `columns:`. */
  readonly columns: readonly string[];
}

export interface FleetText {
  readonly name: string;
  /** From the fleet file to the log folder. */
  readonly logs: string;
  /** Why the zone is as it is written. */
  readonly zone: string;
  readonly display: "si" | "us";
  readonly units: readonly UnitText[];
  /** Logs that cannot be read: a line each. */
  readonly problems: readonly string[];
}

const indented = (lines: readonly string[], by: number): string[] =>
  lines.map((line) => " ".repeat(by) + line);

/** Keys that nothing was written for: each with an example, behind a #, and what it is for. */
function keysToChoose(keys: readonly KeyTold[], written: readonly string[]): string[] {
  return keys.flatMap(({ name, description, example }) =>
    example === undefined || written.includes(name)
      ? []
      : [`${`# ${name}: ${inline(example)}`.padEnd(46)} # ${description}`],
  );
}

/** What all units have alike, which then stands once. */
function sharedBy<T>(units: readonly UnitText[], of: (unit: UnitText) => T): T | undefined {
  const [first] = units;
  if (first === undefined) return undefined;
  const value = JSON.stringify(of(first));
  return units.every((unit) => JSON.stringify(of(unit)) === value) ? of(first) : undefined;
}

const columnsText = (lines: readonly string[]): string[] => {
  const live = lines.some((line) => !line.startsWith("#"));
  if (lines.length === 0) return [];
  return live
    ? ["columns:", ...indented(lines, 2)]
    : ["# columns:", ...lines.map((line) => line.replace("# ", "#   "))];
};

/** Lines of columns that all units have, which then stand once: of several loggers only all of them. */
function sharedColumns(units: readonly UnitText[]): readonly string[] {
  const alike = sharedBy(units, (unit) => unit.columns);
  if (alike !== undefined) return alike;
  if (sharedBy(units, (unit) => unit.header) === undefined) return [];
  const [first, ...others] = units;
  return first?.columns.filter((line) => others.every(({ columns }) => columns.includes(line))) ?? [];
}

/** A fleet file's text: what was seen in the logs, why, and behind a # what nobody can see in them. */
export function fleetText({ name, logs, zone, display, units, problems }: FleetText): string {
  const interval = sharedBy(units, (unit) => unit.sampleInterval);
  const columns = sharedColumns(units);
  const top = ["fleet", "timezone", "display", "logs"];
  const lines = [
    "# A first fleet file, guessed from the logs: read it through. Behind a # stands what the logs do not tell,",
    "# and what is for you to decide. docs/fleet-file.md has every key.",
    `fleet: ${inline(name)}`,
    `${"timezone: UTC".padEnd(46)} # ${zone}`,
    `${`display: ${display}`.padEnd(46)} # units that people see: si or us`,
    `logs: ${inline(logs)}`,
    ...keysToChoose(keysOf(fleetSchema), top),
    "",
    "# For all units; each key may stand at a unit as well.",
    "defaults:",
    ...indented(
      [
        ...(interval === undefined ? [] : [intervalText(interval)]),
        ...keysToChoose(keysOf(defaultsSchema(ruleSettings)), [
          "site",
          "serial",
          "log",
          "sample_interval",
          "columns",
        ]),
        ...columnsText(columns),
      ],
      2,
    ),
    "",
    "units:",
    ...units.flatMap((unit) => [
      `  - id: ${scalar(unit.id).padEnd(38)} # ${counted(unit.logs, "log")}: ${visible(unit.why)}`,
      ...indented(
        [
          ...(unit.log === undefined ? [] : [`log: ${scalar(unit.log)}`]),
          ...(interval === undefined && unit.sampleInterval ? [intervalText(unit.sampleInterval)] : []),
          ...columnsText(unit.columns.filter((line) => !columns.includes(line))),
        ],
        4,
      ),
    ]),
  ];
  if (problems.length > 0)
    lines.push("", "# Not read, and so of no unit:", ...problems.map((why) => `# ${why}`));
  return `${lines.map((line) => line.trimEnd()).join("\n")}\n`;
}

const intervalText = (interval: string): string =>
  `${`sample_interval: ${interval}`.padEnd(44)} # the median step between readings`;
