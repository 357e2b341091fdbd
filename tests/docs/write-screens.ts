import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { copyPonds, readSaid, sessionOf } from "./shown.ts";

/**
 * Remakes the screens that the manual shows as text: the block after a line `<!-- screen: … -->` becomes what the built
 * program shows in `ponds`, a copy of the demonstration's recorded day (shown.ts).
 */
const marked = /<!-- screen: (.+) -->\n\n```\n[\s\S]*?```/g;

const docs = new URL("../../docs/", import.meta.url);
const ponds = "/tmp/ponds";

/** The rows that the program shows after these keys. */
async function rowsOf(text: string): Promise<readonly string[]> {
  const said = readSaid(text);
  const session = await sessionOf(said, ponds);
  const rows = session.lines().slice(0, said.kept);
  session.close();
  return rows.map((row) => row.trimEnd());
}

mkdirSync(ponds);
try {
  copyPonds(ponds);
  for (const name of readdirSync(docs).filter((file) => file.endsWith(".md"))) {
    const page = new URL(name, docs);
    let text = readFileSync(page, "utf8");
    for (const [block, said] of [...text.matchAll(marked)]) {
      const rows = (await rowsOf(said)).join("\n").trimEnd();
      text = text.replace(block, () => `<!-- screen: ${said} -->\n\n\`\`\`\n${rows}\n\`\`\``);
    }
    writeFileSync(page, text);
  }
} finally {
  rmSync(ponds, { recursive: true });
}
process.exit(0);
