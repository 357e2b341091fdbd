import { readdirSync, readFileSync } from "node:fs";

/** A picture of a screen, as a page names it: `<!-- picture: … -->`, then `![its title](where it lies)`. */
export interface Picture {
  readonly page: string;
  /** How the screen is come to (shown.ts). */
  readonly said: string;
  readonly title: string;
  readonly file: URL;
}

const project = new URL("../../", import.meta.url);
const marked = /<!-- picture: (.+) -->\n\n!\[(.+)\]\((.+\.svg)\)/g;

/** Pages of the README and the manual. */
export const pages: readonly string[] = [
  "README.md",
  ...readdirSync(new URL("docs/", project))
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];

export const textOfPage = (page: string): string => readFileSync(new URL(page, project), "utf8");

/** All pictures of screens, in the order of the pages. */
export function pictures(): readonly Picture[] {
  return pages.flatMap((page) =>
    [...textOfPage(page).matchAll(marked)].map(([, said, title, path]) => ({
      page,
      said,
      title,
      file: new URL(path, new URL(page, project)),
    })),
  );
}
