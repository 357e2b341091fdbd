import type { Progress } from "../collector/fleet-view.ts";
import { progressText } from "../dashboard/progress-text.ts";
import { second } from "../terms/time.ts";

/** What takes less than this shows no progress. */
const quickMs = second;
/** The line is rewritten five times a second at most. */
const leastMs = second / 5;

/** Where the line is written: standard error, or what a test puts in its place. */
export interface ProgressOut {
  readonly isTTY?: boolean;
  readonly columns?: number;
  write(text: string): unknown;
}

/** Does `work`, which reads logs, and meanwhile shows on a terminal how far it is. */
export function withProgress<Result>(
  work: (onProgress: (progress: Progress) => void) => Promise<Result>,
  out?: ProgressOut,
  nowMs?: () => number,
): Promise<Result> {
  const reading = (tell: (text: () => string) => void) =>
    work((progress) => tell(() => `reading the logs: ${progressText(progress)}`));
  return withLine(reading, out, nowMs);
}

/** Waits for `work`, and says on a terminal what it waits for where that takes long. */
export function whileWaiting<Result>(
  text: string,
  work: Promise<Result>,
  out?: ProgressOut,
  nowMs?: () => number,
): Promise<Result> {
  const waiting = (tell: (text: () => string) => void): Promise<Result> => {
    const telling = setInterval(() => tell(() => text), leastMs);
    return work.finally(() => clearInterval(telling));
  };
  return withLine(waiting, out, nowMs);
}

/**
 * Does `work` and meanwhile shows on a terminal what it tells: one line, rewritten in place and removed at
 * the end, however that comes. Writes nothing where `out` is no terminal, or where the work is quick.
 */
export async function withLine<Result>(
  work: (tell: (text: () => string) => void) => Promise<Result>,
  out: ProgressOut = process.stderr,
  nowMs: () => number = () => performance.now(),
): Promise<Result> {
  if (!out.isTTY) return work(() => undefined);
  const startMs = nowMs();
  let shown = "";
  let shownMs = Number.NEGATIVE_INFINITY;

  const show = (text: string): void => {
    // Without escape sequences, so that it also works on a dumb terminal.
    out.write(`\r${text.padEnd(shown.length)}${text === "" ? "\r" : ""}`);
    shown = text;
  };
  const remove = (): void => {
    if (shown !== "") show("");
  };
  const tell = (text: () => string): void => {
    const now = nowMs();
    if (now - startMs < quickMs || now - shownMs < leastMs) return;
    shownMs = now;
    show(text().slice(0, (out.columns || 80) - 1));
  };
  const endings = (["SIGINT", "SIGTERM", "SIGHUP"] as const).map((signal) => {
    const end = (): void => {
      remove();
      stopListening();
      process.kill(process.pid, signal);
    };
    process.once(signal, end);
    return { signal, end };
  });
  const stopListening = (): void => {
    for (const { signal, end } of endings) process.off(signal, end);
  };
  try {
    return await work(tell);
  } finally {
    stopListening();
    remove();
  }
}
