import { moment } from "../dashboard/local-time.ts";
import { oneOfThese } from "../fleet/nearest.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { type Work, works } from "../terms/works.ts";
import { CannotWork } from "./context.ts";

/** A work that is begun; planned stops, which end by their time, are none. */
export type BegunWork = ServiceRecord & { readonly work: Work };

export function begunWorks(open: readonly ServiceRecord[]): readonly BegunWork[] {
  return open.filter((one): one is BegunWork => works.some((work) => work === one.work));
}

/** A kind of work by its name; throws `CannotWork` with the nearest where there is none. */
export function workNamed(name: string): Work {
  const work = works.find((one) => one === name);
  if (work !== undefined) return work;
  throw new CannotWork(`'${visible(name)}' is no kind of service${oneOfThese(name, works)}`);
}

/** The begun work that ends: the one named, or the only one. Throws `CannotWork` where it is not plain which. */
export function workToEnd(unit: string, name: string | undefined, begun: readonly BegunWork[]): BegunWork {
  const names = begun.map(({ work }) => work);
  const done = "write service done for one that is over";
  if (name === undefined) {
    if (begun.length === 1) return begun[0];
    if (begun.length === 0) throw new CannotWork(`${unit}: nothing is begun there; ${done}`);
    throw new CannotWork(
      `${unit}: ${names.join(" and ")} are begun; write which: service end FLEET ${unit} ${names[0]}`,
    );
  }
  const work = workNamed(name);
  const named = begun.find((one) => one.work === work);
  if (named !== undefined) return named;
  const others = names.length === 0 ? "" : ` (begun: ${names.join(", ")})`;
  throw new CannotWork(`${unit}: no ${work} is begun there${others}; ${done}`);
}

/** `, begun by Ben at 10:00`: of a begun work. */
export function begunWords({ by, atMs }: ServiceRecord, nowMs: number, timezone: string): string {
  const who = by === undefined ? "" : ` by ${visible(by)}`;
  return `, begun${who} at ${moment(atMs, nowMs, timezone)}`;
}
