import { describe, expect, it, vi } from "vitest";
import { whileWaiting, withProgress } from "../../src/commands/progress-line.ts";

/** A terminal of which only the last row counts: what is on it, and how often it was written. */
function row(columns = 80) {
  let cells = "";
  let at = 0;
  let writes = 0;
  return {
    isTTY: true,
    columns,
    write(text: string) {
      writes++;
      for (const c of text) {
        if (c === "\r") at = 0;
        else {
          cells = cells.padEnd(at).slice(0, at) + c + cells.slice(at + 1);
          at++;
        }
        expect(at).toBeLessThan(columns);
      }
    },
    shows: () => cells.trimEnd(),
    at: () => at,
    writes: () => writes,
  };
}

const progress = (bytesRead: number) => ({ bytesRead, bytesTotal: 100e6, bytesPerSecond: 10e6 });

describe("progress on standard error", () => {
  it("is one line, rewritten in place at most five times a second, and removed at the end", async () => {
    const out = row();
    let now = 0;
    await withProgress(
      async (onProgress) => {
        for (; now < 3000; now += 50) onProgress(progress(now * 1e4));
        expect(out.shows()).toBe("reading the logs: 28 % (28.0 of 100 MB) · 10.0 MB/s · 8 s left");
        expect(out.writes()).toBe(10);
      },
      out,
      () => now,
    );
    expect(out.shows()).toBe("");
    expect(out.at()).toBe(0);
  });

  it("is removed also where the work fails, and the failure is passed on", async () => {
    const out = row();
    let now = 0;
    const work = withProgress(
      async (onProgress) => {
        now = 2000;
        onProgress(progress(5e6));
        throw new Error("the disk is gone");
      },
      out,
      () => now,
    );
    await expect(work).rejects.toThrow("the disk is gone");
    expect(out.writes()).toBe(2);
    expect(out.shows()).toBe("");
  });

  it("writes nothing for work of less than a second, nor where there is no terminal", async () => {
    const quick = row();
    const noTerminal = { ...row(), isTTY: false };
    for (const out of [quick, noTerminal]) {
      let now = 0;
      const done = await withProgress(
        async (onProgress) => {
          for (; now < (out.isTTY ? 1000 : 60_000); now += 50) onProgress(progress(now));
          return "done";
        },
        out,
        () => now,
      );
      expect(done).toBe("done");
      expect(out.writes()).toBe(0);
    }
  });

  it("is cut to a narrow terminal, so that it never takes a second row", async () => {
    const out = row(40);
    let now = 0;
    await withProgress(
      async (onProgress) => {
        now = 1500;
        onProgress(progress(5e6));
        expect(out.shows()).toBe("reading the logs: 5 % (5.0 of 100 MB) ·");
      },
      out,
      () => now,
    );
  });

  it("leaves no listener for signals behind", async () => {
    const before = process.listenerCount("SIGINT");
    await withProgress(async () => expect(process.listenerCount("SIGINT")).toBe(before + 1), row());
    expect(process.listenerCount("SIGINT")).toBe(before);
  });
});

describe("what is waited for", () => {
  it("is said once it takes a second, and the line is gone at the end", async () => {
    vi.useFakeTimers();
    try {
      const out = row();
      const { promise, resolve } = Promise.withResolvers<void>();
      const waited = whileWaiting("keeping what was read of 9 units …", promise, out, () => Date.now());
      await vi.advanceTimersByTimeAsync(900);
      expect(out.writes()).toBe(0);
      await vi.advanceTimersByTimeAsync(300);
      expect(out.shows()).toBe("keeping what was read of 9 units …");
      resolve();
      await waited;
      expect(out.shows()).toBe("");
    } finally {
      vi.useRealTimers();
    }
  });
});
