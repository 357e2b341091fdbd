import { second } from "../terms/time.ts";

/** A group without a shell to bring it back ignores the stop; then the screen returns after this. */
const ignoredAfterMs = second / 2;

/**
 * Stops this process and its whole group, as the shell's job it is, and settles when it goes on. The
 * group, since a launcher such as npm would otherwise hold the shell. SIGTSTP must have no listener
 * meanwhile, or the stop would not happen.
 */
export async function stopUntilContinued(): Promise<void> {
  await new Promise<void>((resolve) => {
    const goOn = (): void => {
      clearTimeout(ignored);
      process.off("SIGCONT", goOn);
      resolve();
    };
    const ignored = setTimeout(goOn, ignoredAfterMs);
    process.on("SIGCONT", goOn);
    process.kill(0, "SIGTSTP");
  });
  // The window may have been resized while another program had the terminal.
  process.kill(process.pid, "SIGWINCH");
}
