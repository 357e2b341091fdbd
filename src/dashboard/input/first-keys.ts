/** How the program is ended before there is a dashboard. */
export type FirstEnd = "quit" | "SIGINT" | "SIGTERM" | "SIGHUP";

/** Where keys come from: standard input, where it is a terminal. */
type Terminal = Pick<NodeJS.ReadStream, "on" | "off" | "pause" | "resume" | "setRawMode" | "unshift">;

const interrupt = "\u0003";
const suspend = "\u001a";

/** Hears the keys that end the program or set it aside, and keeps the others for the dashboard. */
export interface FirstKeys {
  take(): void;
  /** What was typed ahead comes to whoever listens next. */
  handOver(): void;
  leave(): void;
}

/** A `q` counts by itself: within a paste it is none. */
export function firstKeys(terminal: Terminal, end: (how: FirstEnd) => void, setAside: () => void): FirstKeys {
  let ahead: Buffer[] = [];
  let isMine = false;
  const hear = (piece: Buffer | string): void => {
    const bytes = Buffer.from(piece);
    const text = bytes.toString("latin1");
    if (text.includes(interrupt)) end("SIGINT");
    else if (/^q+$/.test(text)) end("quit");
    else if (text === suspend) setAside();
    else ahead.push(bytes);
  };
  const release = (): void => {
    if (!isMine) return;
    isMine = false;
    terminal.off("data", hear);
    terminal.pause();
  };
  return {
    take: () => {
      if (isMine) return;
      isMine = true;
      terminal.setRawMode(true);
      terminal.on("data", hear);
      terminal.resume();
    },
    handOver: () => {
      release();
      if (ahead.length > 0) terminal.unshift(Buffer.concat(ahead));
      ahead = [];
    },
    leave: () => {
      const was = isMine;
      release();
      if (was) terminal.setRawMode(false);
    },
  };
}
