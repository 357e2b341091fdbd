import { expect, it } from "vitest";
import { run } from "../support/program.ts";
import { textOfPage } from "./pictures.ts";

const readme = textOfPage("README.md");

it("the README begins with what the tool is for and its two lines, and then shows the fleet", () => {
  const [title, job, lines, , comment, picture] = readme.split("\n\n");
  expect(title).toBe("# tarnwatch");
  expect(job).toMatch(/^Small pump skids keep ponds alive/);
  expect(lines).toMatch(/^```\nnpm ci && npm start .*\nnpm ci && npm test .*\n```$/);
  expect(comment).toMatch(/^<!-- picture: /);
  expect(picture).toContain("docs/pictures/fleet.svg");
});

it("the README has a line for every command but those of npm start and of help", async () => {
  const { stdout } = await run(["--help"]);
  const commands = [...stdout.slice(stdout.indexOf("\nCommands:")).matchAll(/^ {2}([a-z]+) /gm)].map(
    ([, name]) => name,
  );
  expect(commands.length).toBeGreaterThan(15);
  const named = new Set(
    [...readme.matchAll(/^npm run -s tarnwatch -- ([a-z]+) .*# /gm)].map(([, name]) => name),
  );
  expect(commands.filter((name) => !named.has(name))).toEqual(["demo", "help"]);
  expect([...named].filter((name) => !commands.includes(name))).toEqual([]);
});
