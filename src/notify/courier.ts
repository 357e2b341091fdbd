import type { Delivery } from "../store/deliveries.ts";
import { comparePriority } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import { minute, second } from "../terms/time.ts";
import type { Content } from "./content.ts";
import { keyOf } from "./memory.ts";
import type { Send, Tried } from "./sending.ts";

/** How a way does. */
export interface WayStatus {
  readonly way: string;
  /** Messages that it has still to send. */
  readonly waiting: number;
  /** Since when it fails, ms, and why it failed last. */
  readonly failing: { readonly sinceMs: number; readonly why: string } | null;
}

/** Carries messages over one way, one at a time. */
export interface Courier {
  /** Takes a message that it does not have yet. */
  offer(delivery: Delivery): void;
  /** Lets go of a message that has not been sent. */
  drop(delivery: Delivery): void;
  status(): WayStatus;
  /** Begins no other try; resolves when the one under way has ended. */
  close(): Promise<void>;
}

/** The wait after a first failure, doubled after each further one up to the most, ms (house choice). */
export interface Waits {
  readonly firstMs: number;
  readonly mostMs: number;
}

export const usualWaits: Waits = { firstMs: 5 * second, mostMs: 5 * minute };

interface CourierOptions {
  readonly way: string;
  readonly send: Send;
  readonly now: () => number;
  readonly waits: Waits;
  /** Each try as the delivery stands after it. */
  readonly onTried: (delivery: Delivery) => void;
}

/**
 * A courier for one way. Where a try fails, the way rests, and then another message has its turn. What waits is
 * bounded by what stands: a message is dropped with its alarm.
 */
export function startCourier({ way, send, now, waits, onTried }: CourierOptions): Courier {
  const queue = new Map<string, Delivery>();
  let trying: Promise<void> | null = null;
  let failures = 0;
  let failing: WayStatus["failing"] = null;
  /** Set while it rests after a failure: by a timer, which no change of the clock stretches. */
  let rest: NodeJS.Timeout | undefined;
  let isClosed = false;

  // Fewest tries first: a message that its receiver cannot digest stands in no other's way, however urgent it is.
  const next = (): Delivery | undefined =>
    [...queue.values()].sort(
      (a, b) => a.tries - b.tries || comparePriority(urgency(a), urgency(b)) || a.madeMs - b.madeMs,
    )[0];

  const go = (): void => {
    if (isClosed || trying !== null || rest !== undefined) return;
    const delivery = next();
    if (delivery === undefined) return;
    trying = attempt(delivery).finally(() => {
      trying = null;
      go();
    });
  };

  const attempt = async (delivery: Delivery): Promise<void> => {
    const tried = await carry(delivery);
    const atMs = now();
    take(tried, atMs);
    const { detail, ...rest } = delivery;
    const said = tried.detail === undefined ? {} : { detail: tried.detail };
    const outcome = tried.outcome === "failed" ? "waiting" : tried.outcome;
    const after: Delivery = { ...rest, ...said, outcome, tries: delivery.tries + 1, atMs };
    const key = keyOf(delivery);
    if (outcome !== "waiting") queue.delete(key);
    else if (queue.has(key)) queue.set(key, after);
    // One that was dropped meanwhile stays so, unless it has come through.
    else return;
    onTried(after);
  };

  const carry = async ({ message, content: json }: Delivery): Promise<Tried> => {
    try {
      return await send({ message, json, content: JSON.parse(json) as Content });
    } catch (error) {
      // The system may refuse a process or a socket.
      return { outcome: "failed", detail: visible((error as Error).message) };
    }
  };

  const take = (tried: Tried, atMs: number): void => {
    const why = tried.detail;
    failing = why === undefined ? null : { sinceMs: failing?.sinceMs ?? atMs, why };
    if (tried.outcome !== "failed") {
      failures = 0;
      return;
    }
    const waitMs = Math.min(waits.firstMs * 2 ** failures, waits.mostMs);
    failures = Math.min(failures + 1, 20);
    // Some chance, so that many senders do not come back at the same moment.
    const restMs = tried.afterMs ?? waitMs * (0.8 + 0.4 * Math.random());
    rest = setTimeout(() => {
      rest = undefined;
      go();
    }, restMs);
  };

  return {
    offer: (delivery) => {
      const key = keyOf(delivery);
      if (queue.has(key)) return;
      queue.set(key, delivery);
      go();
    },
    drop: (delivery) => {
      queue.delete(keyOf(delivery));
    },
    status: () => ({ way, waiting: queue.size, failing }),
    close: async () => {
      isClosed = true;
      clearTimeout(rest);
      await trying;
    },
  };
}

function urgency({ alarms }: Delivery) {
  return alarms.reduce<Delivery["alarms"][number]["priority"]>(
    (most, { priority }) => (comparePriority(priority, most) < 0 ? priority : most),
    "prompt",
  );
}
