import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ascii } from "../../src/dashboard/ascii.ts";
import { readXml } from "../support/xml.ts";
import type { TerminalSession } from "../terminal/pty.ts";
import { pages, pictures, textOfPage } from "./pictures.ts";
import { reportPictures } from "./report-pictures.ts";
import { copyPonds, isStill, readSaid, type Said, sessionOf, typeKeys } from "./shown.ts";
import { cellHeight, cellWidth } from "./svg.ts";

const all = pictures().map((picture) => ({ ...picture, name: picture.file.pathname.split("/").at(-1) }));
const folder = new URL("../../docs/pictures/", import.meta.url);

/** The rows that a picture shows, as text. */
function rowsOf(svg: string): readonly string[] {
  const rows: string[] = [];
  for (const { name, attributes, text } of readXml(svg)) {
    if (name !== "text") continue;
    const [row, column] = [Math.floor(Number(attributes.y) / cellHeight), Number(attributes.x) / cellWidth];
    while (rows.length <= row) rows.push("");
    rows[row] = rows[row].padEnd(column) + text;
  }
  return rows;
}

it("pages name every picture there is, and those that they name are there", () => {
  const named = pages
    .flatMap((page) => [...textOfPage(page).matchAll(/!\[.*?\]\(.*?([^/)]+)\)/g)])
    .map(([, name]) => name);
  expect(named.toSorted()).toEqual([...all, ...reportPictures].map(({ name }) => name).toSorted());
  expect(readdirSync(folder).toSorted()).toEqual(named.toSorted());
});

it.each(reportPictures)("$name, made where there is a browser, is a small picture", ({ name }) => {
  const picture = readFileSync(new URL(name, folder));
  expect(picture.subarray(1, 4).toString()).toBe("PNG");
  expect(picture.length).toBeLessThan(200_000);
});

it.each(all)(
  "$name is well-formed, small, says what it shows, and draws without script or other files",
  (picture) => {
    const svg = readFileSync(picture.file, "utf8");
    const elements = readXml(svg);
    expect(new Set(elements.map(({ name }) => name))).toEqual(
      new Set(["svg", "title", "desc", "style", "rect", "text"]),
    );
    expect(elements.find(({ name }) => name === "title")?.text).toBe(picture.title);
    expect(svg).not.toMatch(/href|url\(|@import|@font-face|\son\w+=/);
    expect(statSync(picture.file).size).toBeLessThan(60_000);
  },
);

describe("what the program shows today", () => {
  let ponds = "";
  let session: TerminalSession | undefined;
  beforeAll(() => {
    ponds = mkdtempSync("/tmp/ponds-");
    copyPonds(ponds);
  });
  afterAll(() => {
    session?.close();
    rmSync(ponds, { recursive: true });
  });

  /** One replay for all pictures: it shows a time alike however it came there, and in ASCII other signs for the same. */
  async function shownBy(said: Said): Promise<TerminalSession> {
    const { args, keys, columns, rows } = said;
    expect([args.join(" "), keys[0]]).toEqual(["replay fleet.yaml --state state", "p"]);
    session ??= await sessionOf({ ...said, keys: ["p"], env: {} }, ponds);
    session.resize(columns, rows);
    session.type("1");
    await session.shows("needed:");
    session.press("home");
    await isStill(session.text);
    await typeKeys(session, keys.slice(1));
    return session;
  }

  /** Without where the logs lie, which moves what stands to the right of it. */
  const squeezed = (rows: readonly string[]): readonly string[] =>
    rows.map((row) => row.replaceAll(ponds, "/tmp/ponds").replace(/ +/g, " ").trim());

  it.each(all)("is what $name shows; where not: npm run docs:pictures", async ({ said, file }) => {
    const wanted = squeezed(rowsOf(readFileSync(file, "utf8")));
    const screen = readSaid(said);
    const now = await shownBy(screen);
    const rows = () => squeezed(now.lines().map((row) => (screen.env.LANG === "C" ? ascii(row) : row)));
    await now
      .until(() => rows().join("\n") === wanted.join("\n"), "the picture", 10_000)
      .catch(() => undefined);
    expect(rows()).toEqual(wanted);
  });
});

it("colour is in the pictures of screens that have it, and in no other", () => {
  const coloured = all.filter(({ file }) => /class="[ip]\d/.test(readFileSync(file, "utf8")));
  const withColour = all.filter(({ said }) => readSaid(said).env.NO_COLOR === undefined);
  expect(coloured.map(({ name }) => name)).toEqual(withColour.map(({ name }) => name));
});
