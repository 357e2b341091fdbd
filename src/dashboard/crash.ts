/** Exit status of an internal error, by BSD's sysexits.h: EX_SOFTWARE. */
export const crashStatus = 70;

/** What is written about an error nobody expected: one line, with `debug` where it happened. */
export function crashReport(error: unknown, debug: boolean): string {
  const known = error instanceof Error ? error : new Error(String(error));
  if (debug) return `${known.stack ?? known.message}\n`;
  const message = known.message.split("\n")[0] ?? "";
  return `tarnwatch: the dashboard failed: ${message}; start it with --debug to see where\n`;
}
