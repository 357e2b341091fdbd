import type { FleetView } from "../collector/fleet-view.ts";
import type { Fleet } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { commandName } from "./context.ts";

/** Where no unit of a fleet can be read: what is wrong and what to do, a line each; else nothing. */
export function unreadable(view: FleetView, fleet: Fleet): string[] {
  if (view.units.some((unit) => unit.problem === null || unit.lastReadingMs !== null)) return [];
  if (view.notices.length > 0) return view.notices.map(visible);
  const lines = view.units.slice(0, 5).map((unit) => `${visible(unit.id)}: ${visible(unit.problem ?? "")}`);
  const more = view.units.length - lines.length;
  return [
    `${visible(fleet.logs)}: ${view.units.length === 1 ? "the only unit cannot" : `none of the ${view.units.length} units can`} be read`,
    ...lines,
    ...(more > 0 ? [`and ${more} more`] : []),
    `set \`logs\` in the fleet file to the folder that the loggers write to, or \`log\` at a unit to its files; \`${commandName()} columns LOG\` shows how one file is understood`,
  ];
}
