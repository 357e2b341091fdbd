import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import type { Readable, Writable } from "node:stream";

/** A browser on this machine that speaks the DevTools Protocol; undefined where there is none, or only a hint how to get one. */
export const browserPath = ["chromium", "chromium-browser", "google-chrome"]
  .flatMap((name) => (process.env.PATH ?? "").split(delimiter).map((folder) => join(folder, name)))
  .find((path) => existsSync(path) && spawnSync(path, ["--version"], { timeout: 10_000 }).status === 0);

type Sent = { readonly method: string; readonly params: Readonly<Record<string, unknown>> };

/** A page in a browser without a screen. */
export interface Page {
  /** Calls a method of the protocol and gives its result. */
  call<T>(method: string, params?: Readonly<Record<string, unknown>>): Promise<T>;
  /** The value of an expression in the page. */
  value<T>(expression: string): Promise<T>;
  /** What the browser has told by itself so far. */
  readonly told: readonly Sent[];
  close(): Promise<void>;
}

/** Opens a local file, over the protocol's pipe (Chrome DevTools Protocol, `--remote-debugging-pipe`). */
export async function openPage(path: string): Promise<Page> {
  if (browserPath === undefined) throw new Error("no browser");
  const profile = mkdtempSync(join(tmpdir(), "tarnwatch-browser-"));
  const args = ["--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-pipe"];
  const child: ChildProcess = spawn(browserPath, [...args, `--user-data-dir=${profile}`, "about:blank"], {
    stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"],
  });
  const out = child.stdio[3] as Writable;
  const waiting = new Map<number, { give(value: unknown): void; fail(error: Error): void }>();
  const told: Sent[] = [];
  let text = "";
  (child.stdio[4] as Readable).setEncoding("utf8").on("data", (chunk: string) => {
    const messages = (text + chunk).split("\0");
    text = messages.pop() ?? "";
    for (const message of messages) {
      const { id, result, error, ...event } = JSON.parse(message);
      if (id === undefined) told.push(event as Sent);
      else if (error) waiting.get(id)?.fail(new Error(error.message));
      else waiting.get(id)?.give(result);
    }
  });
  const failed = (): void => {
    for (const { fail } of waiting.values()) fail(new Error("the browser has ended"));
  };
  child.once("exit", failed);
  out.on("error", failed);
  let last = 0;
  const send = <T>(method: string, params: object, sessionId?: string): Promise<T> =>
    new Promise((give, fail) => {
      waiting.set(++last, { give: give as (value: unknown) => void, fail });
      out.write(`${JSON.stringify({ id: last, method, params, ...(sessionId && { sessionId }) })}\0`);
    });
  const { targetId } = await send<{ targetId: string }>("Target.createTarget", { url: "about:blank" });
  const { sessionId } = await send<{ sessionId: string }>("Target.attachToTarget", {
    targetId,
    flatten: true,
  });
  const call = <T>(method: string, params: object = {}): Promise<T> => send<T>(method, params, sessionId);
  for (const domain of ["Page", "Network", "Log", "Accessibility"]) await call(`${domain}.enable`);
  await call("Page.navigate", { url: `file://${path}` });
  while (!told.some(({ method }) => method === "Page.loadEventFired")) {
    await new Promise((later) => setTimeout(later, 20));
  }
  return {
    call,
    told,
    async value<T>(expression: string) {
      const { result } = await call<{ result: { value: T } }>("Runtime.evaluate", {
        expression,
        returnByValue: true,
      });
      return result.value;
    },
    async close() {
      const gone = new Promise((ended) => child.once("exit", ended));
      await send("Browser.close", {}).catch(() => undefined);
      await gone;
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
