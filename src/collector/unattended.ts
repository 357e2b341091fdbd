import { setTimeout as sleep } from "node:timers/promises";
import type { AlarmEvent } from "../terms/events.ts";
import { second } from "../terms/time.ts";
import { attach } from "./attach.ts";
import { workerLink } from "./link.ts";
import type { WorkerStart } from "./messages.ts";
import { beginIn, collectorThread } from "./thread.ts";
import { firstView, type ViewThread } from "./view-thread.ts";

/** What came of starting to collect without a screen. */
export type Unattended =
  | { readonly thread: ViewThread }
  /** Another process collects there and goes on: who, where it says so, and what to do. */
  | { readonly taken: string };

const tryAgainMs = second / 10;

/** A collector that holds the lock answers within this, or it has been stopped. */
const answersWithinMs = 3 * second;

/** A console that is asked keeps what it knows and lets go within this. */
const letsGoWithinMs = 10 * second;

/**
 * Collects in a thread of its own, and attaches nowhere. A console that collects is asked to let go, since it tells
 * nobody who is not at its screen. `onEvent` hears of each event once it is kept. Throws `NotKept`.
 */
export async function openUnattended(
  start: WorkerStart,
  onEvent: (event: AlarmEvent) => void,
): Promise<Unattended> {
  let giveUpMs = performance.now() + answersWithinMs;
  let asked: string | undefined;
  for (;;) {
    const worker = collectorThread();
    beginIn(worker, start);
    const thread = await firstView(workerLink(worker), "the collector", onEvent);
    if (thread !== null) return { thread };
    const other = start.keep && (await attach(start.keep.folder));
    const by = other?.current().collector;
    const who = by && `process ${by.pid} on ${by.host} (${by.kind})`;
    if (other !== undefined && by?.kind === "watch" && asked !== who) {
      asked = who;
      giveUpMs = performance.now() + letsGoWithinMs;
      other.handOver();
      await Promise.race([other.ended, sleep(letsGoWithinMs, undefined, { ref: false })]);
    }
    await other?.close();
    if (by?.kind === "collect") return { taken: `${who} collects there already; end it first` };
    if (performance.now() > giveUpMs) {
      return {
        taken:
          who === undefined
            ? "another process collects there and does not answer; bring it to the foreground or end it"
            : `${who} collects there and does not let go; end it first`,
      };
    }
    await sleep(tryAgainMs);
  }
}
