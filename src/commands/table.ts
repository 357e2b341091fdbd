/**
 * Rows of cells as lines, each column as wide as its widest cell: the first `left` columns to the left, the others
 * to the right.
 */
export function table(rows: readonly (readonly string[])[], left = 1): string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => [...(row[i] ?? "")].length)));
  return rows.map((row) =>
    row
      .map((cell, i) => {
        const blank = " ".repeat((widths[i] ?? 0) - [...cell].length);
        return i < left ? cell + blank : blank + cell;
      })
      .join("  ")
      .trimEnd(),
  );
}
