import { existsSync, mkdirSync, statSync } from "node:fs";
import { dirname } from "node:path";

/**
 * Makes a folder at an absolute path, and those above it that are missing. Throws what the file system throws. One by
 * one: Node's `recursive` goes on for ever where the system says that a path above is missing and will not make it, as
 * Linux does under /proc.
 */
export function makeFolders(path: string, mode?: number): void {
  if (isFolder(path)) return;
  const above = dirname(path);
  if (above !== path && !existsSync(above)) makeFolders(above, mode);
  try {
    mkdirSync(path, { mode });
  } catch (error) {
    // Another process may have made it meanwhile.
    if (!isFolder(path)) throw error;
  }
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}
