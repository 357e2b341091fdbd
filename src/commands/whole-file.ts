import { closeSync, openSync, renameSync, rmSync, writeSync } from "node:fs";
import { CannotWork, fileProblem } from "./context.ts";

/** A file that is there whole or not at all, written piece by piece. */
export interface WholeFile {
  write(texts: Iterable<string>): void;
  keep(): void;
  /** Takes away what is written; nothing where it is kept. */
  drop(): void;
}

const pieceLength = 1 << 16;

/** Begins such a file beside its place. It and its `write` and `keep` throw `CannotWork`. */
export function openWhole(path: string): WholeFile {
  const part = `${path}.part`;
  let file: number | null = null;
  let isKept = false;
  const close = (): void => {
    if (file !== null) closeSync(file);
    file = null;
  };
  const drop = (): void => {
    close();
    if (!isKept) rmSync(part, { force: true });
  };
  const doing = <T>(what: () => T): T => {
    try {
      return what();
    } catch (error) {
      drop();
      throw new CannotWork(fileProblem(path, error, "write"));
    }
  };
  const opened = doing(() => openSync(part, "w"));
  file = opened;
  const put = (text: string): void => {
    const bytes = Buffer.from(text);
    for (let at = 0; at < bytes.length; ) at += doing(() => writeSync(opened, bytes, at));
  };
  return {
    write: (texts) => {
      let piece = "";
      for (const text of texts) {
        piece += text;
        if (piece.length < pieceLength) continue;
        put(piece);
        piece = "";
      }
      put(piece);
    },
    keep: () =>
      doing(() => {
        close();
        renameSync(part, path);
        isKept = true;
      }),
    drop,
  };
}

/** Writes such a file. Throws `CannotWork`. */
export function writeWhole(path: string, texts: Iterable<string>): void {
  const file = openWhole(path);
  file.write(texts);
  file.keep();
}
