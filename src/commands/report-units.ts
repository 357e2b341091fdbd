import { nearest } from "../fleet/nearest.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { CannotWork } from "./context.ts";
import { unitIn } from "./load-fleet.ts";

export interface UnitsAsked {
  readonly customer?: string;
  readonly site?: string;
  readonly unit?: string;
}

const customerOf = (fleet: Fleet, unit: Unit): string | undefined =>
  fleet.sites.find(({ name }) => name === unit.site)?.customer;

/** The units that are asked for: all of them where nothing is. Throws `CannotWork`. */
export function unitsWanted(fleet: Fleet, { customer, site, unit }: UnitsAsked): readonly Unit[] {
  const theirs =
    customer === undefined ? fleet.units : fleet.units.filter((one) => customerOf(fleet, one) === customer);
  if (customer !== undefined && theirs.length === 0) {
    const known = [...new Set(fleet.units.flatMap((one) => customerOf(fleet, one) ?? []))];
    const hint =
      known.length === 0 ? "no site names a customer" : `the nearest is ${nearest(customer, known)}`;
    throw new CannotWork(visible(`no unit of this fleet is of the customer '${customer}'; ${hint}`));
  }
  if (unit !== undefined) {
    const one = unitIn(fleet, unit);
    if (site !== undefined && one.site !== site) {
      throw new CannotWork(`${visible(unit)} is not at '${visible(site)}'; leave out --site or --unit`);
    }
    if (theirs.includes(one)) return [one];
    throw new CannotWork(
      `${visible(unit)} is not of '${visible(customer ?? "")}'; leave out --customer or --unit`,
    );
  }
  if (site === undefined) return theirs;
  const there = theirs.filter((one) => one.site === site);
  if (there.length > 0) return there;
  const sites = [...new Set(theirs.flatMap((one) => one.site ?? []))];
  const hint = sites.length === 0 ? "no unit has a site" : `the nearest is ${visible(nearest(site, sites))}`;
  throw new CannotWork(`no unit of this fleet is at '${visible(site)}'; ${hint}`);
}

/** Units by site, in the order in which the fleet file first has one there. */
export function unitsBySite(units: readonly Unit[]): readonly (readonly Unit[])[] {
  return [...Map.groupBy(units, ({ site }) => site).values()];
}

/** Whose units these are: customers by name, a site without one by its own; several are told to nobody but the operator. */
export function ownersOf(fleet: Fleet, units: readonly Unit[]): readonly string[] {
  return [...new Set(units.map((one) => customerOf(fleet, one) ?? one.site ?? "no site"))];
}
