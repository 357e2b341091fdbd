import type { FleetSource } from "../source.ts";
import type { Prepared } from "./prepared.ts";

/** A word is taken in within a fifth of a second, and a view follows. */
const showsWithinMs = 1000;

/** What is told of words that have been kept: who was first, as soon as a view shows it, else that they are said. */
export function outcome(prepared: Prepared, atMs: number, source: FleetSource): Promise<string> {
  const { promise, resolve } = Promise.withResolvers<string>();
  const done = prepared.done(atMs);
  if (prepared.first === undefined) return Promise.resolve(done);
  const look = (): void => {
    const first = prepared.first?.(atMs, source.current());
    if (first !== undefined) resolve(first ?? done);
  };
  const end = source.subscribe(look);
  const late = setTimeout(() => resolve(done), showsWithinMs);
  look();
  return promise.finally(() => {
    end();
    clearTimeout(late);
  });
}
