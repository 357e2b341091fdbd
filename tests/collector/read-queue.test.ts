import { describe, expect, it } from "vitest";
import { startReadQueue } from "../../src/collector/read-queue.ts";

describe("units waiting to be read", () => {
  it("are all read though one read fails, and the failure is told with its unit", async () => {
    const read: string[] = [];
    const failed: string[] = [];
    const queue = startReadQueue(
      async (id) => {
        if (id === "LM-02") throw new Error("the disk is gone");
        read.push(id);
      },
      (id, error) => failed.push(`${id}: ${(error as Error).message}`),
    );
    await queue.add(["LM-01", "LM-02", "LM-03"]);
    expect(read).toEqual(["LM-01", "LM-03"]);
    expect(failed).toEqual(["LM-02: the disk is gone"]);
    await queue.add(["LM-02", "LM-01"]);
    expect(read).toEqual(["LM-01", "LM-03", "LM-01"]);
    expect(failed).toHaveLength(2);
  });

  it("are read one at a time, and once more where they change while they are read", async () => {
    let reading = 0;
    const read: string[] = [];
    const queue = startReadQueue(
      async (id) => {
        expect(++reading).toBe(1);
        read.push(id);
        if (read.length === 1) void queue.add(["LM-01", "LM-02"]);
        await Promise.resolve();
        reading--;
      },
      (_id, error) => {
        throw error;
      },
    );
    await queue.add(["LM-01", "LM-02"]);
    expect(read).toEqual(["LM-01", "LM-02", "LM-01"]);
  });

  it("are read also after a call in which nothing had changed", async () => {
    const read: string[] = [];
    const queue = startReadQueue(
      async (id) => void read.push(id),
      () => undefined,
    );
    await queue.add([]);
    await queue.add(["LM-01"]);
    expect(read).toEqual(["LM-01"]);
  });

  it("are let go when it stops, but for the one being read", async () => {
    const read: string[] = [];
    const gate = Promise.withResolvers<void>();
    const queue = startReadQueue(
      async (id) => {
        await gate.promise;
        read.push(id);
      },
      () => undefined,
    );
    void queue.add(["LM-01", "LM-02"]);
    await Promise.resolve();
    const stopped = queue.stop();
    gate.resolve();
    await stopped;
    expect(read).toEqual(["LM-01"]);
  });
});
