import type { Standing } from "./standing.ts";

/** Alarms that go out as one message. */
export interface Bundle {
  /** `fleet`: units of several sites fell silent together. `unit`: of one that has no site. */
  readonly scope: "fleet" | "site" | "unit";
  /** The site, where there is one. */
  readonly site: string | null;
  /** Silence and stops go apart from what is wrong with a running pump. */
  readonly isSilence: boolean;
  /** The most urgent first. */
  readonly alarms: readonly [Standing, ...Standing[]];
}

/** Parts alarms into messages: by site, and first what fell silent together at several sites. */
export function bundled(alarms: readonly Standing[], withinMs: number): readonly Bundle[] {
  const across = acrossSites(alarms, withinMs);
  const taken = new Set(across.flat());
  const rest = Map.groupBy(
    alarms.filter((alarm) => !taken.has(alarm)),
    ({ site, unit, silent }) => `${silent === null}\n${site === null ? `\n${unit}` : site}`,
  );
  return [
    ...across.flatMap((found) => bundle("fleet", found)),
    ...[...rest.values()].flatMap((found) => bundle(found[0]?.site === null ? "unit" : "site", found)),
  ];
}

function bundle(scope: Bundle["scope"], found: readonly Standing[]): Bundle[] {
  const order = { high: 0, medium: 1, low: 2, prompt: 3 };
  const [first, ...others] = found.toSorted(
    (a, b) =>
      order[a.priority] - order[b.priority] ||
      Number(b.isPressing) - Number(a.isPressing) ||
      a.raisedMs - b.raisedMs ||
      (a.id < b.id ? -1 : 1),
  );
  if (first === undefined) return [];
  const site = scope === "fleet" ? null : first.site;
  return [{ scope, site, isSilence: first.silent !== null, alarms: [first, ...others] }];
}

/**
 * Stretches of units of more than one site whose readings ended one after another, each no later after the one
 * before than the grouping time or two of its sample intervals: one path of delivery.
 */
function acrossSites(alarms: readonly Standing[], withinMs: number): Standing[][] {
  const silent = alarms
    .filter((alarm) => alarm.silent === "no readings")
    .toSorted((a, b) => a.sinceMs - b.sinceMs);
  const stretches: Standing[][] = [];
  for (const alarm of silent) {
    const stretch = stretches.at(-1);
    const before = stretch?.at(-1);
    const reach = Math.max(withinMs, 2 * alarm.intervalMs);
    if (before !== undefined && alarm.sinceMs - before.sinceMs <= reach) stretch?.push(alarm);
    else stretches.push([alarm]);
  }
  return stretches.filter((found) => new Set(found.map(({ site, unit }) => site ?? `\n${unit}`)).size > 1);
}
