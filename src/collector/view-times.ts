import { second } from "../terms/time.ts";

/** A view is sent at most this often; sooner where an alarm came or went. */
const everyMs = second;
const urgentAfterMs = second / 10;

/** Says when a view is to be sent, whatever this computer's clock does. */
export interface ViewTimes {
  /** Something is to be seen; `urgent` where an alarm came or went. */
  changed(urgent: boolean): void;
  /** Sends now. */
  send(): void;
  /** Sends nothing that is not asked for any more. */
  stop(): void;
}

export function startViewTimes(send: () => void): ViewTimes {
  let due: NodeJS.Timeout | undefined;
  let dueMs = Number.POSITIVE_INFINITY;
  let sentMs = Number.NEGATIVE_INFINITY;
  const stop = (): void => {
    clearTimeout(due);
    dueMs = Number.POSITIVE_INFINITY;
  };
  const sendNow = (): void => {
    stop();
    sentMs = performance.now();
    send();
  };
  return {
    changed: (urgent) => {
      const nowMs = performance.now();
      const at = Math.max(nowMs + urgentAfterMs, urgent ? 0 : sentMs + everyMs);
      if (at >= dueMs) return;
      clearTimeout(due);
      dueMs = at;
      due = setTimeout(sendNow, at - nowMs);
    },
    send: sendNow,
    stop,
  };
}
