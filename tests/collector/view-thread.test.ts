import { Worker } from "node:worker_threads";
import { expect, it } from "vitest";
import { workerLink } from "../../src/collector/link.ts";
import { firstView } from "../../src/collector/view-thread.ts";

it("a thread that ends before its first view keeps nobody waiting", async () => {
  const silent = new Worker("", { eval: true });
  await expect(firstView(workerLink(silent), "the collector")).rejects.toThrow("the collector has ended");
  const broken = new Worker("throw new RangeError('no such unit')", { eval: true });
  await expect(firstView(workerLink(broken), "the collector")).rejects.toThrow("no such unit");
});
