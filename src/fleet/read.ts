import { visible } from "../terms/text.ts";
import { fleetSchema } from "./fleet-schema.ts";
import { lastName, pathFrom } from "./folder.ts";
import type { RuleSettings } from "./limits.ts";
import { isMapping, merged } from "./merge.ts";
import { notifyProblems } from "./notify-schema.ts";
import { check, type Problem, pathText } from "./problems.ts";
import { serviceList } from "./services.ts";
import type { Fleet, Site, Unit } from "./unit.ts";
import { idsOf, unitsOverDefaults, writtenUnits } from "./unit-list.ts";
import { withPlaces } from "./ways-schema.ts";
import { readYaml, type YamlSource } from "./yaml-source.ts";

/** Where a fleet file lies. */
export interface FleetSource {
  /** As the user named it: for messages. */
  readonly path: string;
  /** Its absolute folder, which `logs` and `state` are relative to. */
  readonly folder: string;
}

/**
 * A fleet file's text as a fleet, or every problem in it: one line each, in the order of the file.
 * `ruleSettings` are the rules' own schemas, which judge `limits`; `over` is laid over every
 * unit. Reads no other file and never throws.
 */
export function readFleet(
  text: string,
  source: FleetSource,
  ruleSettings: RuleSettings,
  over?: unknown,
): { fleet: Fleet } | { problems: readonly string[] } {
  const yaml = readYaml(text);
  const file = visible(source.path);
  if ("problems" in yaml) {
    return { problems: yaml.problems.map((p) => `${file}:${p.line}:${p.column} ${p.problem}`) };
  }
  const problems: Problem[] = [];
  const note = (problem: Problem) => problems.push(problem);

  const { value: top, problems: atTop } = check(fleetSchema, yaml.data);
  atTop.forEach(note);
  const { defaults, units: list, services: records } = isMapping(yaml.data) ? yaml.data : {};
  const written = writtenUnits(list, yaml, note);
  const units = unitsOverDefaults(
    written.map((unit) => merged(unit, over)),
    defaults,
    ruleSettings,
    note,
  );
  const services = serviceList(records, idsOf(written), note);
  const sites = sitesOf(top?.sites ?? {}, units);
  if (top?.notify) {
    const names = sites.map(({ name }) => name);
    notifyProblems(top.notify, names).forEach(note);
  }

  if (problems.length > 0 || top === undefined) return { problems: inFileOrder(problems, yaml, file) };
  return {
    fleet: {
      name: top.fleet ?? lastName(source.folder),
      timezone: top.timezone,
      display: top.display,
      logs: pathFrom(source.folder, top.logs),
      follow: top.follow,
      state: top.state === undefined ? undefined : pathFrom(source.folder, top.state),
      stateGroup: top.state_group,
      orderWithinMs: top.order_within,
      sites,
      units,
      services,
      ...(top.notify && {
        notify: {
          ...top.notify,
          ways: top.notify.ways.map((way) => withPlaces(way, (path) => pathFrom(source.folder, path))),
        },
      }),
    },
  };
}

/** Each problem on its line, once: a wrong default is met at every unit. */
function inFileOrder(problems: readonly Problem[], yaml: YamlSource, file: string): readonly string[] {
  const lines = problems
    .map(({ path, problem }) => ({ ...yaml.placeOf(path), text: `${pathText(path)}: ${problem}` }))
    .toSorted((a, b) => a.line - b.line || a.column - b.column)
    .map(({ line, column, text }) => `${file}:${line}:${column} ${text}`);
  return [...new Set(lines)];
}

/** The sites written, then those that only units name. */
function sitesOf(
  written: Readonly<Record<string, Omit<Site, "name">>>,
  units: readonly Unit[],
): readonly Site[] {
  const sites = new Map<string, Site>(
    Object.entries(written).map(([name, site]) => [name, { name, ...site }]),
  );
  for (const { site } of units) {
    if (site !== undefined && !sites.has(site)) sites.set(site, { name: site });
  }
  return [...sites.values()];
}
