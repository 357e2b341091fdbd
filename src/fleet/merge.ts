type Mapping = Readonly<Record<string, unknown>>;

export function isMapping(value: unknown): value is Mapping {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * `over` laid on `under`, key by key and into mappings; a list or a single value replaces what was there.
 * A key with nothing behind it counts as left out.
 */
export function merged(under: unknown, over: unknown): unknown {
  if (over === undefined || over === null) return under;
  if (!isMapping(under) || !isMapping(over)) return over;
  const keys = new Set([...Object.keys(under), ...Object.keys(over)]);
  return Object.fromEntries([...keys].map((key) => [key, merged(own(under, key), own(over, key))]));
}

function own(value: Mapping, key: string): unknown {
  return Object.hasOwn(value, key) ? value[key] : undefined;
}

/** Whether something is written at `path`. */
export function has(value: unknown, path: readonly PropertyKey[]): boolean {
  let here = value;
  for (const key of path) {
    if (typeof here !== "object" || here === null || !Object.hasOwn(here, key)) return false;
    here = (here as Record<PropertyKey, unknown>)[key];
  }
  return true;
}
