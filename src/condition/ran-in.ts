/** Whether a motor ran in a span of time. */
export type Ran = "throughout" | "in part" | "not";

/**
 * Whether a motor ran in a span, by its least and its most reading there. It runs from `runningFrom` up and until it falls below
 * `stoppedBelow`, as readings one by one are judged; `before`: what it did in the span before, where that joins.
 */
export function ranIn(
  least: number,
  most: number,
  { runningFrom, stoppedBelow }: { readonly runningFrom: number; readonly stoppedBelow: number },
  before?: Ran,
): Ran {
  if (least >= stoppedBelow && (most >= runningFrom || before === "throughout")) return "throughout";
  return most >= runningFrom ? "in part" : "not";
}
