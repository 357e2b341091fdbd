import type { Progress } from "../collector/fleet-view.ts";
import { counted } from "../terms/text.ts";
import { type FirstEnd, firstKeys } from "./input/first-keys.ts";
import { ends, fitted, type Line, line, span } from "./line.ts";
import { progressText } from "./progress-text.ts";
import { paint, themeOf } from "./theme.ts";

/** Takes and gives back the alternate screen; its first column and row (xterm's control sequences). */
const takes = "\u001b[?1049h";
const givesBack = "\u001b[?1049l";
const home = "\u001b[H";
const clearsBelow = "\u001b[J";

const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

export interface FirstFrame {
  /** Tells how far the logs have been read. */
  tell(progress: Progress | undefined): void;
  /** Leaves the screen and the keyboard to the dashboard, which draws over it. */
  handOver(): void;
  /** Gives the terminal back as it was found. */
  leave(): void;
}

/**
 * Draws on the terminal, before the dashboard and its libraries are loaded, which fleet is being read. `end` ends the
 * process at a signal or at `q`; however it ends, the terminal is given back.
 */
export function startFirstFrame(
  fleet: { readonly name: string; readonly units: readonly unknown[] },
  end: (how: FirstEnd) => void,
): FirstFrame {
  const { stdin, stdout } = process;
  const theme = themeOf(process.env, stdout.getColorDepth(), process.platform);
  let progress: Progress | undefined;
  let isMine = true;
  let drawn = "";
  const draw = (): void => {
    const rows = firstRows(fleet.name, fleet.units.length, progress, stdout.columns || 80);
    const text = rows.map((row) => paint(row, theme)).join("\r\n");
    if (text !== drawn) stdout.write(home + text);
    drawn = text;
  };
  const keys = firstKeys(stdin, end, () => setAside());
  const take = (): void => {
    drawn = "";
    keys.take();
    stdout.write(takes);
    draw();
  };
  const release = (): void => {
    isMine = false;
    for (const [name, listener] of listeners) process.off(name, listener);
  };
  const leave = (): void => {
    if (!isMine) return;
    release();
    keys.leave();
    stdout.write(givesBack);
  };
  const setAside = (): void => {
    process.off("SIGTSTP", setAside);
    keys.leave();
    stdout.write(givesBack);
    process.kill(process.pid, "SIGTSTP");
  };
  const goOn = (): void => {
    process.off("SIGTSTP", setAside);
    process.on("SIGTSTP", setAside);
    take();
  };
  const listeners: readonly (readonly [string, () => void])[] = [
    ...signals.map((signal) => [signal, () => end(signal)] as const),
    ["SIGTSTP", setAside],
    ["SIGCONT", goOn],
    ["exit", leave],
  ];
  for (const [name, listener] of listeners) process.on(name, listener);
  take();
  return {
    tell: (newest) => {
      progress = newest;
      if (isMine) draw();
    },
    handOver: () => {
      release();
      keys.handOver();
      // Only the dashboard's head fills the window's width, and not where it is read out.
      const kept = process.env.INK_SCREEN_READER === "true" ? "" : "\r\n";
      stdout.write(home + kept + clearsBelow + home);
    },
    leave,
  };
}

/** What is known before anything has been read. */
export function firstRows(
  name: string,
  units: number,
  progress: Progress | undefined,
  width: number,
): readonly Line[] {
  const read = progress === undefined ? " …" : `: ${progressText(progress)}`;
  return [
    ends([span(" "), span(name, "strong")], [span("starting ")], width),
    line(` reading the logs of ${counted(units, "unit")}${read}`),
    line(" nothing is known of them yet; q ends it", "dim"),
  ].map((row) => fitted(row, width));
}
