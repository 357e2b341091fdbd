/** Tells a key that a person pressed from one in a burst: what a paste, a noisy line or a cat on the keys sends. */
export interface Burst {
  /** A piece of input has come. */
  hear(input: string): void;
  /** Does `act` once this turn of the event loop is over, unless more than the one key came within it. */
  ifAlone(act: () => void): void;
}

export function startBurst(): Burst {
  let keys = 0;
  let waiting: (() => void) | null = null;
  const settle = (): void => {
    const act = keys === 1 ? waiting : null;
    keys = 0;
    waiting = null;
    act?.();
  };
  return {
    hear: (input) => {
      if (keys === 0) setImmediate(settle);
      keys += Math.max(1, [...input].length);
    },
    ifAlone: (act) => {
      waiting = act;
    },
  };
}
