import type { Fleet } from "../fleet/unit.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { changed } from "./change.ts";
import type { FleetView, UnitHistory } from "./fleet-view.ts";
import type { Said } from "./keeping.ts";
import type { Link } from "./link.ts";
import type { FromWorker } from "./messages.ts";

/** What sends views of a fleet and answers for its units' past. */
export interface ViewThread {
  current(): FleetView;
  subscribe(listener: () => void): () => void;
  /**
   * At once by what is summed up; `finely` by the logs, as far as they are still there. Rejects for an unknown unit, where
   * another past was asked for meanwhile, and where the thread has ended.
   */
  history(unit: string, fromMs: number, toMs: number, points: number, finely?: boolean): Promise<UnitHistory>;
  /** Has what a person says kept; the problem where that was refused. Rejects where the thread has ended. */
  say(said: readonly Said[]): Promise<string | null>;
  /** Goes on with another fleet file. */
  setFleet(fleet: Fleet): void;
  /** Settles once the thread has ended, however it did. */
  close(): Promise<void>;
  /** Asks a console that collects to let the state folder go to this process, which collects unattended. */
  handOver(): void;
  /** Settles once it has ended by itself; with `handed-over` where it has made room for an unattended collector. */
  readonly ended: Promise<"ended" | "handed-over">;
  /** Rejects when the thread dies by itself; never resolves. */
  readonly failed: Promise<never>;
}

/** Nothing can be kept in the state folder: the line for people. */
export class NotKept extends Error {}

/**
 * Waits for a link's first view; null where another process collects. `what` is named where it ends before. Throws
 * `NotKept` where an unattended collector cannot keep anything.
 */
export async function firstView(
  link: Link,
  what: string,
  onEvent?: (event: AlarmEvent) => void,
): Promise<ViewThread | null> {
  const listeners = new Set<() => void>();
  const asked = new Map<number, PromiseWithResolvers<unknown>>();
  let requests = 0;
  let view: FleetView | undefined;
  let over = false;
  let handedOver = false;
  const first = Promise.withResolvers<"view" | "taken">();
  const failed = Promise.withResolvers<never>();
  failed.promise.catch(() => {});
  const hasEnded = () => new Error(`${what} has ended`);
  const ended = new Promise<"ended" | "handed-over">((resolve) => {
    link.onEnd((error) => {
      over = true;
      if (error) failed.reject(error);
      first.reject(error ?? hasEnded());
      for (const { reject } of asked.values()) reject(hasEnded());
      asked.clear();
      resolve(handedOver ? "handed-over" : "ended");
    });
  });
  link.onMessage((message: FromWorker) => {
    if (message.kind === "view" || message.kind === "change") {
      view = message.kind === "view" ? message.view : (changed(view, message.change) as FleetView);
      first.resolve("view");
      for (const listener of listeners) listener();
      return;
    }
    if (message.kind === "taken") {
      first.resolve("taken");
      return;
    }
    if (message.kind === "unkept") {
      first.reject(new NotKept(message.problem));
      return;
    }
    if (message.kind === "handed-over") {
      handedOver = true;
      return;
    }
    if (message.kind === "event") {
      onEvent?.(message.event);
      return;
    }
    const answer = asked.get(message.request);
    asked.delete(message.request);
    if (message.kind === "said") answer?.resolve(message.problem);
    else if (message.history) answer?.resolve(message.history);
    else
      answer?.reject(
        new Error(message.overtaken ? "another past was asked for" : "the fleet has no such unit"),
      );
  });
  const ask = <T>(post: (request: number) => void): Promise<T> => {
    if (over) return Promise.reject(hasEnded());
    const answer = Promise.withResolvers<unknown>();
    const request = ++requests;
    asked.set(request, answer);
    post(request);
    return answer.promise as Promise<T>;
  };
  if ((await first.promise) === "taken") return null;
  return {
    current: () => view as FleetView,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    history: (unit, fromMs, toMs, points, finely = false) =>
      ask((request) =>
        link.post({
          kind: "history",
          request,
          unit,
          fromMs,
          toMs,
          points,
          ...(finely && { finely: true as const }),
        }),
      ),
    say: (said) => ask((request) => link.post({ kind: "say", request, said })),
    setFleet: (fleet) => link.post({ kind: "fleet", fleet }),
    handOver: () => link.post({ kind: "hand-over" }),
    close: async () => {
      if (!over) link.post({ kind: "close" });
      await ended;
    },
    ended,
    failed: failed.promise,
  };
}
