import type { DatabaseSync as Database } from "node:sqlite";

export type { Database };

/** Node 22 calls node:sqlite experimental when it is loaded, on standard error; the dashboard draws there. */
function withoutWarning<T>(load: () => T): T {
  const { emitWarning } = process;
  process.emitWarning = () => {};
  try {
    return load();
  } finally {
    process.emitWarning = emitWarning;
  }
}

/** Node's own SQLite. An import would be loaded before a line of this file runs. */
export const { DatabaseSync } = withoutWarning(() => process.getBuiltinModule("node:sqlite"));
