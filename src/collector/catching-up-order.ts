import type { Unit } from "../fleet/unit.ts";

/**
 * In which order units' backlogs are read: those that fish depend on first, since a stop there has to be
 * answered soonest; within that the smallest backlog first, so that most units are up to now soon and one long
 * log keeps nobody waiting. `bytes` by unit id.
 */
export function catchingUpOrder(units: readonly Unit[], bytes: ReadonlyMap<string, number>): string[] {
  const size = ({ id }: Unit): number => bytes.get(id) ?? 0;
  const later = ({ consequence }: Unit): number => (consequence === "fish" ? 0 : 1);
  return units.toSorted((a, b) => later(a) - later(b) || size(a) - size(b)).map(({ id }) => id);
}
