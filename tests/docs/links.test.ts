import { existsSync } from "node:fs";
import { expect, it } from "vitest";
import { pages, textOfPage } from "./pictures.ts";

const project = new URL("../../", import.meta.url);
const all = [...pages, "DEVELOPERS.md"];
const fenced = /^```[\s\S]*?^```/gm;

/** The anchors of a page's headings, as GitHub makes them. */
function anchorsOf(page: string): ReadonlySet<string> {
  const headings = textOfPage(page)
    .replace(fenced, "")
    .matchAll(/^#+ (.+)$/gm);
  return new Set(
    [...headings].map(([, heading]) =>
      heading
        .toLowerCase()
        .replaceAll(/[^\p{L}\p{N} _-]/gu, "")
        .replaceAll(" ", "-"),
    ),
  );
}

it.each(all)("every link of %s leads to a file that is there, and to a heading in it", (page) => {
  const links = [
    ...textOfPage(page)
      .replace(fenced, "")
      .matchAll(/\]\(([^)\s]+)\)/g),
  ].map(([, to]) => to);
  const lost = links
    .filter((to) => !to.includes("://"))
    .filter((to) => {
      const { pathname, hash } = new URL(to, new URL(page, project));
      if (!existsSync(pathname)) return true;
      const target = pathname.slice(project.pathname.length);
      return hash !== "" && !anchorsOf(target).has(decodeURIComponent(hash.slice(1)));
    });
  expect(lost).toEqual([]);
});

it("the manual's list of pages has every page", () => {
  const listed = new Set(
    [...textOfPage("docs/README.md").matchAll(/^\| \[(.+?)\]\(\1\)/gm)].map(([, name]) => `docs/${name}`),
  );
  const wanted = pages.filter((page) => page.startsWith("docs/") && page !== "docs/README.md");
  expect([...listed].toSorted()).toEqual(wanted.toSorted());
});
