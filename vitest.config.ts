import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

// Tests start the program and other children some hundred times: what Node has compiled once, it need not again.
process.env.NODE_COMPILE_CACHE ??= fileURLToPath(new URL("test-results/compiled", import.meta.url));

// No test keeps a fleet's state where the user's own is kept.
const state = mkdtempSync(join(tmpdir(), "tarnwatch-state-"));
process.env.XDG_STATE_HOME = state;
process.once("exit", () => rmSync(state, { recursive: true, force: true }));

/** Tests that leave something behind in their process, such as a mock, or that measure its memory and handles. */
const alone =
  "odd-logs|sparse-index|bounds|handles|keep-units|kills|view-thread|view-times|history-performance|service|launch|command|notify-command|notifying|live";

/** The others share workers, which is far quicker; a screen's tests do not. */
const sharing = `tests/{engine*.test.ts,{acquire,advise,assess,collector,commands,condition,detect,docs,fleet,notify,physics,published,report,score,simulate,site,statistics,store}/**/!(${alone}).test.ts}`;

export default defineConfig({
  test: {
    setupFiles: ["tests/support/tidy.ts"],
    testTimeout: 60_000,
    // Many wait for a program that they have started.
    maxWorkers: 3,
    reporters: ["default", ["json", { outputFile: "test-results/vitest.json" }]],
    projects: [
      {
        extends: true,
        test: { name: "sharing", include: [sharing], isolate: false },
      },
      {
        extends: true,
        test: { name: "apart", include: ["tests/**/*.test.{ts,tsx}"], exclude: [sharing] },
      },
    ],
  },
});
