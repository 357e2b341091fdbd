import { userInfo } from "node:os";
import { parseQuantity } from "../fleet/quantity.ts";
import { type OpenDatabase, openDatabase } from "../store/database.ts";
import { openStateFolder } from "../store/folder.ts";
import { tryLock } from "../store/lock.ts";
import type { Outcome } from "../store/outcome.ts";
import type { Database } from "../store/sqlite.ts";
import { visible } from "../terms/text.ts";
import { CannotWork } from "./context.ts";
import { loadFleet } from "./load-fleet.ts";
import { stateFolder } from "./state-folder.ts";

/** A fleet's state folder, open for people's words. */
export interface KeptState extends Awaited<ReturnType<typeof loadFleet>> {
  readonly db: Database;
  /** Whether a process collects on it now. */
  collects(): boolean;
}

/** `work` on a fleet's state folder; throws `CannotWork` where it cannot be opened or written. */
export async function onKeptState<T>(
  fleetPath: string | undefined,
  options: { readonly state?: string },
  work: (kept: KeptState) => Promise<T> | T,
): Promise<T> {
  const loaded = await loadFleet(fleetPath);
  const { fleet, path } = loaded;
  const folder = must(
    await openStateFolder(stateFolder(fleet, path, options.state), {
      ...(fleet.stateGroup !== undefined && { group: fleet.stateGroup }),
    }),
  );
  const { db }: OpenDatabase = must(openDatabase(folder));
  try {
    const collects = (): boolean => {
      const lock = must(tryLock(folder));
      lock?.release();
      return lock === null;
    };
    return await work({ ...loaded, db, collects });
  } finally {
    db.close();
  }
}

/** An outcome's value; throws `CannotWork` with its problem. */
export function must<T>(outcome: Outcome<T>): T {
  if (outcome.problem !== undefined) throw new CannotWork(outcome.problem);
  return outcome.value;
}

/** Who speaks: `--by`, else the user's login. */
export function speaker(by: string | undefined): string {
  const name = by ?? process.env.USER ?? userInfo().username;
  if (name.trim() === "") throw new CannotWork("--by: write your name");
  return visible(name.trim());
}

/** A length of time as `--for` gives it, ms. */
export function lengthOf(text: string): number {
  const parsed = parseQuantity(text, "ms");
  if ("problem" in parsed || parsed.value <= 0) {
    throw new CannotWork(`--for '${visible(text)}' is not a length of time; write it like 2h or 30 min`);
  }
  return parsed.value;
}
