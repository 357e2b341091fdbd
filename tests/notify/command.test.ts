import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { CommandWay } from "../../src/fleet/notify.ts";
import { commandSend } from "../../src/notify/command.ts";
import { folder, letterOf, script } from "./receivers.ts";

function way(...command: string[]): CommandWay {
  return { kind: "command", name: "phone", timeoutMs: 5000, command };
}
const node = process.execPath;

afterEach(() => vi.unstubAllEnvs());

describe("a command", () => {
  it("gets the message as JSON on standard input and in its environment, and no secret", async () => {
    const out = join(folder(), "out.json");
    const path = script(`
import { readFileSync, writeFileSync } from "node:fs";
const given = JSON.parse(readFileSync(0, "utf8"));
const { TARNWATCH_SUBJECT, TARNWATCH_UNIT, TARNWATCH_ID, DESK_SECRET } = process.env;
writeFileSync(process.argv[2], JSON.stringify({ given, args: process.argv.slice(3), TARNWATCH_SUBJECT, TARNWATCH_UNIT, TARNWATCH_ID, DESK_SECRET }));`);
    vi.stubEnv("DESK_SECRET", "hush");
    const letter = letterOf();
    const send = commandSend(way(node, path, out, "$HOME; touch x", "`id`"), ["DESK_SECRET"]);
    expect(await send(letter)).toEqual({ outcome: "delivered" });
    expect(JSON.parse(readFileSync(out, "utf8"))).toEqual({
      given: letter.content,
      args: ["$HOME; touch x", "`id`"],
      TARNWATCH_SUBJECT: letter.content.subject,
      TARNWATCH_UNIT: "LM-01",
      TARNWATCH_ID: letter.message,
    });
  });

  it("that fails is tried again, and says why by its last words", async () => {
    const path = script(`process.stderr.write("dialling\\nno carrier\\x1b[2J\\n"); process.exit(3);`);
    expect(await commandSend(way(node, path), [])(letterOf())).toEqual({
      outcome: "failed",
      detail: "it ended with status 3: no carrier␛[2J",
    });
  });

  it("that does not end is ended with all that it began", async () => {
    const beat = join(folder(), "beat");
    const stubborn = `trap "" TERM; (while :; do i=$((i+1)); echo $i > "$0"; sleep 0.02; done) & wait; sleep 60`;
    const send = commandSend({ ...way("/bin/sh", "-c", stubborn, beat), timeoutMs: 500 }, [], 200);
    expect(await send(letterOf())).toEqual({
      outcome: "failed",
      detail: "it had not ended after 0.5 s, and was ended",
    });
    expect(existsSync(beat)).toBe(true);
    const last = readFileSync(beat, "utf8");
    await new Promise((resolve) => setTimeout(resolve, 150));
    expect(readFileSync(beat, "utf8")).toBe(last);
  });

  it("that reads nothing is delivered all the same", async () => {
    const big = letterOf({ text: "x".repeat(100_000) });
    expect(await commandSend(way("true"), [])(big)).toEqual({ outcome: "delivered" });
  });

  it("that is not there is refused", async () => {
    expect(await commandSend(way("/nowhere/send-sms"), [])(letterOf())).toEqual({
      outcome: "refused",
      detail: "/nowhere/send-sms: there is no such program; write its whole path",
    });
  });
});
