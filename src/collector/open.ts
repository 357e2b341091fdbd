import { setTimeout as sleep } from "node:timers/promises";
import type { Worker } from "node:worker_threads";
import { visible } from "../terms/text.ts";
import { second } from "../terms/time.ts";
import { attach } from "./attach.ts";
import type { FleetView } from "./fleet-view.ts";
import type { Said } from "./keeping.ts";
import { workerLink } from "./link.ts";
import type { WorkerStart } from "./messages.ts";
import { beginIn, collectorThread } from "./thread.ts";
import { firstView, type ViewThread } from "./view-thread.ts";

/** A console's way to a fleet: it collects in a thread of its own, or attaches where a collector runs. */
export interface OpenConsole {
  current(): FleetView;
  subscribe(listener: () => void): () => void;
  history: ViewThread["history"];
  say(said: readonly Said[]): Promise<string | null>;
  /** The first view, from now on, that `enough` accepts. */
  viewWhere(enough: (view: FleetView) => boolean): Promise<FleetView>;
  /** Lets the state folder go while the screen is set aside, so that another console can take over. */
  letGo(): Promise<void>;
  /** Collects or attaches again. */
  takeUp(): void;
  close(): Promise<void>;
  /** Rejects when collecting fails in a way nobody expected; never resolves. */
  readonly failed: Promise<never>;
}

/** Another process collects, and no first view comes of it: the line for people. */
export class NotAnswered extends Error {}

/** Between two tries to take over or to attach, somewhat at random, so that consoles do not keep meeting. */
const tryAgainMs = second / 5;

/** Who has asked a console to let go collects within this, or the console collects again. */
const comesWithinMs = 5 * second;

/** A collector that holds the lock answers within this, or it has been stopped. */
const answersWithinMs = 3 * second;

/**
 * Collects for a fleet, or attaches to the process that does; where that one ends, this one takes over or
 * attaches to another that did. Settles with the first view; throws `NotAnswered` where none comes. `ready` is a
 * thread that has been loading meanwhile.
 */
export async function openConsole(start: WorkerStart, ready?: Worker): Promise<OpenConsole> {
  let spare = ready;
  const listeners = new Set<() => void>();
  const failed = Promise.withResolvers<never>();
  failed.promise.catch(() => {});
  let now: ViewThread | null = null;
  let last: FleetView | undefined;
  let away: string | null = null;
  let closed = false;
  let aside = false;
  const isWanted = (): boolean => !closed && !aside;
  const tellAll = (): void => {
    for (const listener of listeners) listener();
  };

  /** Null once nobody wants it any more. */
  const find = async (ownFromMs = Number.NEGATIVE_INFINITY): Promise<ViewThread | null> => {
    while (performance.now() < ownFromMs && isWanted()) {
      const other = start.keep && (await attach(start.keep.folder));
      if (other) return other;
      await sleep(tryAgainMs);
    }
    const giveUpMs = performance.now() + answersWithinMs;
    while (isWanted()) {
      const worker = spare ?? collectorThread();
      spare = undefined;
      // What a console has seen of a fleet does not vanish because it takes over.
      beginIn(worker, { ...start, unseen: last === undefined });
      const own = await firstView(workerLink(worker), "the collector");
      if (own !== null) return own;
      const other = start.keep && (await attach(start.keep.folder));
      if (other) return other;
      if (last === undefined && performance.now() > giveUpMs) {
        throw new NotAnswered(
          `${visible(start.stateFolder)}: another process collects there and does not answer; bring it to the foreground or end it`,
        );
      }
      if (last !== undefined && performance.now() > giveUpMs) {
        away = "the process that collects does not answer; bring it to the foreground or end it";
        tellAll();
      }
      await sleep(tryAgainMs * (0.5 + Math.random()));
    }
    return null;
  };

  const use = (thread: ViewThread): void => {
    now = thread;
    away = null;
    last = thread.current();
    thread.subscribe(() => {
      last = thread.current();
      tellAll();
    });
    thread.failed.catch((error: unknown) => failed.reject(error));
    void thread.ended.then((how) => {
      if (now !== thread) return;
      now = null;
      if (!isWanted()) return;
      const handedOver = how === "handed-over";
      away = handedOver
        ? "an unattended collector is taking over; this console is attaching to it"
        : "the process that collected has ended; this console is taking over";
      tellAll();
      takeUp(handedOver ? performance.now() + comesWithinMs : undefined);
    });
    tellAll();
  };

  /** One search at a time: what a second one finds would collect unseen. */
  let searching: Promise<void> | null = null;
  const search = async (ownFromMs?: number): Promise<void> => {
    try {
      while (isWanted()) {
        const thread = await find(ownFromMs);
        if (thread !== null && isWanted()) {
          use(thread);
          return;
        }
        await thread?.close();
      }
    } catch (error) {
      failed.reject(error);
    } finally {
      searching = null;
    }
  };

  /** Collects itself only from `ownFromMs` on, by `performance.now`. */
  const takeUp = (ownFromMs?: number): void => {
    aside = false;
    if (now === null && searching === null && !closed) searching = search(ownFromMs);
  };

  const close = async (): Promise<void> => {
    const thread = now;
    now = null;
    await Promise.all([thread?.close(), searching]);
  };

  const first = await find();
  if (first !== null) use(first);
  const current = (): FleetView => {
    const view = last as FleetView;
    return away === null ? view : { ...view, notices: [away, ...view.notices] };
  };
  const subscribe = (listener: () => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  };
  const hasNone = () => Promise.reject(new Error("no process collects at present"));
  return {
    current,
    subscribe,
    history: (...wanted) => now?.history(...wanted) ?? hasNone(),
    say: (said) => now?.say(said) ?? hasNone(),
    viewWhere: (enough) => {
      if (enough(current())) return Promise.resolve(current());
      const { promise, resolve } = Promise.withResolvers<FleetView>();
      const stop = subscribe(() => {
        if (!enough(current())) return;
        stop();
        resolve(current());
      });
      return Promise.race([promise, failed.promise]);
    },
    letGo: () => {
      aside = true;
      return close();
    },
    takeUp: () => takeUp(),
    close: () => {
      closed = true;
      return close();
    },
    failed: failed.promise,
  };
}
