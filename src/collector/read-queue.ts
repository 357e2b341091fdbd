/** Units waiting to be read, one at a time; a unit that changes while it is read is read again. */
export interface ReadQueue {
  /** Resolves when nothing waits any more. */
  add(ids: Iterable<string>): Promise<void>;
  /** Lets go of what waits; resolves when the unit being read is done. */
  stop(): Promise<void>;
}

/** `onError` hears of a read that failed; the others go on. */
export function startReadQueue(
  read: (id: string) => Promise<void>,
  onError: (id: string, error: unknown) => void,
): ReadQueue {
  const waiting = new Set<string>();
  let running: Promise<void> | null = null;
  let stopped = false;

  const run = async (): Promise<void> => {
    // Only after `add` has noted it as running.
    await Promise.resolve();
    // A set is walked in the order of adding, and what is added meanwhile is walked too.
    for (const id of waiting) {
      waiting.delete(id);
      if (!stopped) await read(id).catch((error: unknown) => onError(id, error));
    }
    running = null;
  };
  return {
    add: (ids) => {
      for (const id of ids) waiting.add(id);
      running ??= run();
      return running;
    },
    stop: async () => {
      stopped = true;
      await running;
    },
  };
}
