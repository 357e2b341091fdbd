import { describe, expect, it } from "vitest";
import { fileProblem } from "../../src/commands/context.ts";

const problem = (code: string, doing?: "read" | "write") =>
  fileProblem("log\u001b.csv", Object.assign(new Error(`${code}: the system's words`), { code }), doing);

describe("why a file cannot be used", () => {
  it.each([
    ["EACCES", "no permission to read it", "no permission to write it"],
    ["EPERM", "no permission to read it", "no permission to write it"],
    ["ENOENT", "there is no such file", "there is no such folder"],
    ["EISDIR", "it is a folder, not a file", "it is a folder, not a file"],
    ["ENOSPC", "no space is left", "no space is left"],
    ["EMFILE", "EMFILE: the system's words", "EMFILE: the system's words"],
  ])("%s says what was tried", (code, read, write) => {
    expect(problem(code)).toBe(`log␛.csv: ${read}`);
    expect(problem(code, "write")).toBe(`log␛.csv: ${write}`);
  });
});
