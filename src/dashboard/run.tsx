import "./production.ts";
import { render, type SuspendTerminal } from "ink";
import { createElement } from "react";
import { crashReport, crashStatus } from "./crash.ts";
import { Dashboard } from "./dashboard.tsx";
import { keyboardOf } from "./input/keyboard.ts";
import { stopUntilContinued } from "./set-aside.ts";
import type { FleetSource } from "./source.ts";
import { themeOf } from "./theme.ts";

/** How the dashboard came to its end: a key, or the signal that ended it. */
export type DashboardEnd = "quit" | "SIGINT" | "SIGTERM" | "SIGHUP";

const endingSignals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/**
 * Shows `source` on the terminal until it is quit, and leaves the terminal as it was found: at the end,
 * while set aside by Ctrl-Z, and on an error nobody expected (then the process ends with status 70 and
 * one line on standard error; with `debug` a stack trace). Standard input and output must be a terminal.
 */
export async function runDashboard(
  source: FleetSource,
  { debug = false, by = "" }: { readonly debug?: boolean; readonly by?: string } = {},
): Promise<DashboardEnd> {
  const { stdin, stdout } = process;
  // As Ink's own programs are told that a screen reader is used.
  const linear = process.env.INK_SCREEN_READER === "true";
  let how: DashboardEnd | null = null;
  let suspend: SuspendTerminal | null = null;
  let handedOver = false;

  const end = (cause: DashboardEnd): void => {
    how ??= cause;
    screen.unmount();
  };
  /** The first frame begins where the cursor stands, and a key typed ahead has moved it. */
  const beginLine = (): void => {
    stdout.write("\r");
  };
  /** Gives the terminal back as found, does `meanwhile`, takes it again and draws everything anew. */
  const handOver = async (meanwhile: () => Promise<void>): Promise<void> => {
    if (suspend === null || handedOver || how !== null) return;
    handedOver = true;
    await suspend(async () => {
      await meanwhile();
      beginLine();
      // From here on it is drawn again: a stop meanwhile spoils that, and has it drawn once more.
      handedOver = false;
    });
  };
  const setAside = (): void => {
    void handOver(async () => {
      process.off("SIGTSTP", setAside);
      await source.letGo?.();
      await stopUntilContinued();
      source.takeUp?.();
      process.on("SIGTSTP", setAside);
    }).catch(crash);
  };
  const redraw = (): void => {
    void handOver(() => Promise.resolve()).catch(crash);
  };
  const crash = (error: unknown): void => {
    screen.unmount();
    process.stderr.write(crashReport(error, debug));
    process.exit(crashStatus);
  };
  const hungUp = (): void => end("SIGHUP");
  // Before the terminal is touched: a signal that comes while the first frame is written is met after it.
  const listeners = new Map(endingSignals.map((signal) => [signal, () => end(signal)]));
  for (const [signal, listener] of listeners) process.on(signal, listener);
  process.on("SIGTSTP", setAside);
  process.on("SIGCONT", redraw);

  // Not JSX: the import it brings would load React before `production.ts` has chosen the build.
  const dashboard = createElement(Dashboard, {
    source,
    by,
    linear,
    theme: themeOf(process.env, stdout.getColorDepth(), process.platform),
    onEnd: end,
    onSetAside: setAside,
    onRedraw: redraw,
    onTerminal: (given) => {
      suspend = given;
    },
  });
  // A key typed before now has been echoed; from here on none is.
  stdin.setRawMode(true);
  beginLine();
  const screen = render(dashboard, {
    stdin: keyboardOf(stdin),
    alternateScreen: true,
    interactive: stdout.isTTY,
    exitOnCtrlC: false,
    maxFps: 60,
    incrementalRendering: true,
    isScreenReaderEnabled: linear,
  });
  process.on("uncaughtException", crash);
  // A terminal that is gone tells so by an error on either stream; writing the farewell may fail again.
  stdin.on("error", hungUp).on("end", hungUp);
  stdout.on("error", hungUp);
  try {
    await screen.waitUntilExit();
  } catch (error) {
    crash(error);
  } finally {
    for (const [signal, listener] of listeners) process.off(signal, listener);
    process.off("SIGTSTP", setAside);
    process.off("SIGCONT", redraw);
    process.off("uncaughtException", crash);
    stdin.off("end", hungUp);
    if (how !== "SIGHUP") {
      stdin.off("error", hungUp);
      stdout.off("error", hungUp);
    }
  }
  return how ?? "quit";
}
