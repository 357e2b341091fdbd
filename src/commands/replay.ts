import { CannotWork } from "./context.ts";
import { playThrough, type ReplayOptions, writeEvents } from "./play-through.ts";

/** `replay`: plays recorded logs through the rules in log time; on the screen, or the events a line each. */
export async function replay(fleetPath: string | undefined, options: ReplayOptions): Promise<number> {
  if (options.againOnChange) {
    const { replayAgain } = await import("./replay-again.ts");
    return replayAgain(fleetPath ?? "fleet.yaml", options);
  }
  if (options.events === undefined) {
    if (!process.stdout.isTTY || !process.stdin.isTTY) {
      throw new CannotWork(
        "replay draws on a terminal, and there is none; " +
          "name a file for the events, or - for standard output: --events -",
      );
    }
    const { replayOnScreen } = await import("./replay-on-screen.ts");
    return replayOnScreen(fleetPath, options);
  }
  const played = await playThrough(fleetPath, options);
  await writeEvents(options.events, played.events);
  return 0;
}
