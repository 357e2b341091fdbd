import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { called } from "../support/called.ts";
import { projectFolder } from "../support/program.ts";

const page = readFileSync(new URL("../../docs/site.md", import.meta.url), "utf8");
const blocks = [...page.matchAll(/^```\n\$ tarnwatch (.+)\n([\s\S]+?)\n```$/gm)];

it("the page of site has examples", () => {
  expect(blocks).toHaveLength(2);
});

it.each(blocks.map(([, command, shown]) => [command, shown]))(
  "the page shows what `%s` prints",
  async (command, shown) => {
    const { stdout } = await called(command.split(" "), { cwd: projectFolder });
    expect(stdout.startsWith(`${shown}\n\nReckoned`)).toBe(true);
  },
);
