import { afterEach, describe, expect, it, vi } from "vitest";

const watch = vi.fn(async () => 0);
vi.mock("../src/commands/watch.ts", () => ({ watch }));
const { main } = await import("../src/cli.ts");

afterEach(() => watch.mockClear());

describe("--debug", () => {
  it.each([
    ["before the command", ["--debug", "watch", "pond.yaml"]],
    ["after the command", ["watch", "--debug", "pond.yaml"]],
    ["at the end", ["watch", "pond.yaml", "--debug"]],
  ])("means the same wherever it stands: %s", async (_, args) => {
    expect(await main(args)).toBe(0);
    expect(watch).toHaveBeenCalledWith("pond.yaml", expect.objectContaining({ debug: true }));
  });

  it("is off where it is not written", async () => {
    await main(["watch", "pond.yaml"]);
    expect(watch).toHaveBeenCalledWith("pond.yaml", {});
  });
});
