/**
 * The first row to show of `total`, in a window of `height` rows that stood at `top`, so that rows
 * `first` to `last` are seen: moved as little as possible; what is too tall shows its beginning.
 */
export function scrolledTo(top: number, height: number, first: number, last: number, total: number): number {
  let moved = top;
  if (last >= moved + height) moved = last - height + 1;
  if (first < moved) moved = first;
  return clampTop(moved, height, total);
}

/** `top` kept within what there is to scroll. */
export function clampTop(top: number, height: number, total: number): number {
  return Math.max(0, Math.min(top, total - height));
}
