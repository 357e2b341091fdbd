import { tmpdir } from "node:os";
import { vi } from "vitest";
import { main } from "../../src/cli.ts";
import type { Ended } from "./program.ts";

type Written = (text: string, ...more: readonly unknown[]) => boolean;

/**
 * What `run` gives, at a tenth of its cost: the command is called in this process, from its arguments to its status.
 * For what a command says and writes. What the started program does is `run`'s to tell: streams, signals, threads,
 * the environment. One at a time, since the folder and the streams are the process's own.
 */
export async function called(
  args: readonly string[],
  { cwd = tmpdir() }: { readonly cwd?: string } = {},
): Promise<Ended> {
  const before = process.cwd();
  let stdout = "";
  let stderr = "";
  const taking =
    (take: (text: string) => void): Written =>
    (text, ...more) => {
      take(text);
      const done = more.at(-1);
      if (typeof done === "function") done();
      return true;
    };
  const spies = [
    vi.spyOn(process.stdout, "write").mockImplementation(taking((text) => (stdout += text)) as never),
    vi.spyOn(process.stderr, "write").mockImplementation(taking((text) => (stderr += text)) as never),
  ];
  // A trace of the test's own start through npm.
  vi.stubEnv("npm_lifecycle_event", undefined);
  process.chdir(cwd);
  try {
    return { status: await main(args), stdout, stderr };
  } finally {
    process.chdir(before);
    vi.unstubAllEnvs();
    for (const spy of spies) spy.mockRestore();
  }
}
