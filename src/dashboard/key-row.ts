import { widthOf } from "./width.ts";

/** A key and what it does; those of a higher rank are left out first where there is no room. */
export type KeyHint = readonly [text: string, rank?: number];

const between = " · ";

/** The row of keys: as many hints as fit into `width`, in their order. */
export function keyRow(hints: readonly KeyHint[], width: number): string {
  const shown = [...hints];
  const text = (): string => shown.map(([hint]) => hint).join(between);
  while (widthOf(text()) + 1 > width && shown.length > 1) {
    const last = shown.reduce((most, [, rank = 0], at) => (rank >= (shown[most]?.[1] ?? 0) ? at : most), 0);
    shown.splice(last, 1);
  }
  return text();
}

/** The views of the fleet, each by its digit. */
export const viewKeys = "2 alarms 3 history 4 service 5 data";

/** Those from anywhere: by name where there is room. */
export function viewsHint(width: number): string {
  return width >= 110 ? `1 units ${viewKeys}` : "1-5 views";
}
