/**
 * What makes one piece of plain data of another: a bare value that takes its place, one in brackets where that is
 * no bare value, or the changes within it by key.
 */
export type Change = string | number | boolean | null | readonly [unknown] | ChangeWithin;
interface ChangeWithin {
  readonly [key: string]: Change;
}

type Within = Readonly<Record<string, unknown>>;

/**
 * The change from `before` to `now`; undefined where they are alike. Plain data: objects, arrays, and bare values
 * with NaN and undefined.
 */
export function changeBetween(before: unknown, now: unknown): Change | undefined {
  if (Object.is(before, now)) return undefined;
  if (!isWithin(now)) return now === undefined ? [now] : (now as Change);
  if (!isWithin(before) || Array.isArray(before) !== Array.isArray(now)) return [now];
  const keys = Object.keys(now);
  if (keys.length !== Object.keys(before).length) return [now];
  let within: Record<string, Change> | undefined;
  for (const key of keys) {
    if (!Object.hasOwn(before, key)) return [now];
    const change = changeBetween(before[key], now[key]);
    if (change === undefined) continue;
    within ??= {};
    within[key] = change;
  }
  return within;
}

/** What `before` has become; what has not changed of it is the same as before. */
export function changed(before: unknown, change: Change): unknown {
  if (change === null || typeof change !== "object") return change;
  if (isReplacement(change)) return change[0];
  const now = (Array.isArray(before) ? [...before] : { ...(before as Within) }) as Record<string, unknown>;
  for (const key of Object.keys(change)) now[key] = changed(now[key], change[key]);
  return now;
}

function isWithin(data: unknown): data is Within {
  return data !== null && typeof data === "object";
}

function isReplacement(change: readonly [unknown] | ChangeWithin): change is readonly [unknown] {
  return Array.isArray(change);
}
