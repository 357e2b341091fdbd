import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { setTimeout as wait } from "node:timers/promises";
import { node, startInTerminal } from "../terminal/pty.ts";

/**
 * Remakes the screens that the manual shows, 80 × 24. The block after a line
 * `<!-- screen: ARGUMENTS | KEYS | … -->` becomes what the built program shows in `ponds`, a copy of the demonstration's
 * recorded day, once the keys are typed: `enter`, `tab`, or text as it stands. `rows N` keeps the first N rows.
 * They are of replays, which begin paused by the key `p`, so the same bytes come each time.
 */
const marked = /<!-- screen: (.+) -->\n\n```\n[\s\S]*?```/g;

const docs = new URL("../../docs/", import.meta.url);
const ponds = "/tmp/ponds";
const named: Readonly<Record<string, string>> = { enter: "\r", tab: "\t" };
const stillMs = 400;
const patienceMs = 60_000;

/** The rows that the program shows after these keys. */
async function screenOf(said: string): Promise<readonly string[]> {
  const [args, ...keys] = said.split(" | ");
  const rows = keys.find((key) => key.startsWith("rows "))?.slice(5);
  const program = new URL("../../dist/launch.js", import.meta.url).pathname;
  const session = startInTerminal(node, [program, ...args.split(" ")], { cwd: ponds });
  try {
    await session.shows("q quits", patienceMs);
    for (const key of keys) {
      if (key.startsWith("rows ")) continue;
      session.type(named[key] ?? key);
      await isStill(session.text);
    }
    return session
      .lines()
      .slice(0, rows === undefined ? undefined : Number(rows))
      .map((line) => line.trimEnd());
  } finally {
    session.close();
  }
}

/** Settles once the screen has not changed for a while. */
async function isStill(text: () => string): Promise<void> {
  for (let waitedMs = 0; waitedMs < patienceMs; waitedMs += stillMs) {
    const before = text();
    await wait(stillMs);
    if (text() === before && !text().includes("going to")) return;
  }
  throw new Error(`the screen does not come to rest:\n${text()}`);
}

mkdirSync(ponds);
try {
  cpSync(new URL("../../sample-logs/", import.meta.url), ponds, { recursive: true });
  for (const name of readdirSync(docs).filter((file) => file.endsWith(".md"))) {
    const page = new URL(name, docs);
    let text = readFileSync(page, "utf8");
    for (const [block, said] of [...text.matchAll(marked)]) {
      const rows = (await screenOf(said)).join("\n").trimEnd();
      text = text.replace(block, () => `<!-- screen: ${said} -->\n\n\`\`\`\n${rows}\n\`\`\``);
    }
    writeFileSync(page, text);
  }
} finally {
  rmSync(ponds, { recursive: true });
}
process.exit(0);
