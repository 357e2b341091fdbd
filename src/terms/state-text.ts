/** Plain data as text: JSON that keeps NaN and the infinities, which JSON by itself turns into null. */
export function stateText(data: unknown): string {
  return JSON.stringify(data, (_key, value) =>
    typeof value === "number" && !Number.isFinite(value) ? { $number: String(value) } : value,
  );
}

/** The data of `stateText`'s text. Throws a SyntaxError where it is no JSON. */
export function stateFrom(text: string): unknown {
  return JSON.parse(text, (_key, value) =>
    value !== null && typeof value === "object" && "$number" in value ? Number(value.$number) : value,
  );
}
