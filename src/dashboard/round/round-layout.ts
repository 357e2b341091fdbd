import type { FleetView, UnitView } from "../../collector/fleet-view.ts";
import { counted, matches } from "../../terms/text.ts";
import { type FleetLayout, fleetLayout } from "../fleet-layout.ts";
import { type Line, line } from "../line.ts";
import { linearLayout } from "../linear/linear-layout.ts";
import { worstFirst } from "../urgency.ts";
import { unitWords } from "./filter.ts";
import { listedLayout } from "./listed-layout.ts";
import type { Order } from "./use-round.ts";

/** The fleet with only those units that a filter leaves. */
export function filtered(view: FleetView, filter: string): FleetView {
  if (filter.trim() === "") return view;
  return { ...view, units: view.units.filter((unit) => matches(filter, unitWords(unit))) };
}

/**
 * The fleet's units in an order that a person chose, laid out for a screen `width` columns wide; `linear` where it is
 * to be read out.
 */
export function roundLayout(view: FleetView, order: Order, width: number, linear = false): FleetLayout {
  const byId = view.units.toSorted((a, b) => byName(a.id, b.id));
  const sites = [...Map.groupBy(byId, ({ site }) => site)].toSorted(([a], [b]) =>
    a === null || b === null ? Number(a === null) - Number(b === null) : byName(a, b),
  );
  if (linear) {
    const bySite = sites.flatMap(([, units]) => units);
    const worst = worstFirst(view).map(({ unit }) => unit);
    return linearLayout(view, { worst, site: bySite, name: byId }[order], width);
  }
  if (order === "worst") return fleetLayout(view, width);
  if (order === "name") return listedLayout(view, [{ title: null, units: byId }], width);
  return listedLayout(
    view,
    sites.map(([site, units]) => ({ title: siteTitle(site, units), units })),
    width,
  );
}

const names = new Intl.Collator("en", { numeric: true });

/** `LM-2` before `LM-10`. */
function byName(a: string, b: string): number {
  return names.compare(a, b) || (a < b ? -1 : Number(a > b));
}

function siteTitle(site: string | null, units: readonly UnitView[]): string {
  return `${site ?? "no site in the fleet file"} · ${counted(units.length, "unit")}`;
}

const orderWords: Readonly<Record<Order, string>> = {
  worst: "worst first",
  site: "by site",
  name: "by name",
};

/** Says that not all units are shown, or that the worst are not first; null where neither is so. */
export function roundLine(order: Order, filter: string, shown: number, all: number): Line | null {
  if (order === "worst" && filter === "") return null;
  const only =
    filter === "" ? "" : ` · only '${filter}': ${shown} of ${counted(all, "unit")} · Esc shows all`;
  return line(` ${orderWords[order]}${only}`, "strong");
}
