/**
 * Lets runs of one piece of work never overlap, so that no older answer comes after a newer one. A call while it
 * runs is answered by one more run after that, which all such calls share: it has seen what they were made for.
 */
export function oneAtATime(run: () => Promise<void>): () => Promise<void> {
  let last: Promise<void> = Promise.resolve();
  let next: Promise<void> | undefined;
  return () => {
    if (next === undefined) {
      next = last.then(() => {
        next = undefined;
        return run();
      });
      last = next.catch(() => {});
    }
    return next;
  };
}
