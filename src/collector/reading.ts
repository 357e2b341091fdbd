import type { Finding } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { type Following, noticeArrival } from "./following.ts";
import type { Keeper } from "./keeper.ts";
import { play } from "./play.ts";
import { tellReadAgain } from "./read-again.ts";
import { startReadQueue } from "./read-queue.ts";
import { remember } from "./recent.ts";
import { sum } from "./summing.ts";

export interface ReadingOptions {
  readonly units: ReadonlyMap<string, Following>;
  /** The fleet's clock, ms. */
  readonly nowMs: () => number;
  readonly keeper: Keeper | undefined;
  readonly tell: (following: Following, findings: readonly Finding[]) => void;
  /** Something is to be seen; `urgent` where it should be at once. */
  readonly onChange: (urgent: boolean) => void;
}

/** Reads units' logs and runs their engines. */
export interface Reading {
  /** Reads units' logs up to now, in this order, one at a time. */
  catchUp(units: readonly string[]): Promise<void>;
  /** Reads what the logs of those units have gained that have been read up to now. */
  changed(units: Iterable<string>): Promise<void>;
  /** Why a unit's log could not be read last. */
  problem(unit: string): string | undefined;
  stop(): Promise<void>;
}

export function startReading({ units, nowMs, keeper, tell, onChange }: ReadingOptions): Reading {
  const failures = new Map<string, string>();
  let stopped = false;

  const readUnit = async (id: string): Promise<void> => {
    const following = units.get(id);
    if (following === undefined) return;
    const { log, player, recent } = following;
    // Left by an error in the midst of a read, it stands nowhere that it could go on from: what was kept last holds.
    following.reading = true;
    for await (const batch of log.read()) {
      remember(recent, batch);
      const late = log.takeLate();
      if (late) remember(recent, late);
      if (keeper !== undefined) sum(following.summing, batch, player.state.signals.length, nowMs());
      following.unkeptRows += batch.rows;
      tell(following, play(player, batch, false, late));
      tell(following, noticeArrival(following, batch, nowMs()));
      if (batch.rows > 0) following.silentFromMs = Number.NEGATIVE_INFINITY;
      keeper?.afterBatch(following);
      onChange(false);
      if (stopped) break;
    }
    following.reading = false;
    failures.delete(id);
  };

  const failed = (id: string, error: unknown): void => {
    failures.set(id, `reading its log failed: ${visible((error as Error).message)}`);
    onChange(true);
  };

  const live = startReadQueue(readUnit, failed);
  const backlog = startReadQueue(async (id) => {
    await readUnit(id).catch((error: unknown) => failed(id, error));
    const following = units.get(id);
    if (following === undefined) return;
    if (stopped) return;
    tell(following, tellReadAgain(following));
    following.behind = false;
    following.firstLook = undefined;
    // Whatever was appended meanwhile, and from now on, does not wait for the other units' backlogs.
    void live.add([id]);
    onChange(false);
  }, failed);

  return {
    catchUp: (ids) => backlog.add(ids),
    changed: (ids) => live.add([...ids].filter((id) => units.get(id)?.behind === false)),
    problem: (unit) => failures.get(unit),
    stop: async () => {
      stopped = true;
      await Promise.all([backlog.stop(), live.stop()]);
    },
  };
}
