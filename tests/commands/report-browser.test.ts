import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browserPath, openPage, type Page } from "../support/browser.ts";
import { called } from "../support/called.ts";
import { hostile, keptMonth } from "../support/kept-month.ts";
import { folderWith } from "../support/program.ts";

interface Node {
  readonly role?: { readonly value: string };
  readonly name?: { readonly value: string };
  readonly ignored: boolean;
}

/** Where the machine has a browser: what it makes of the page. */
describe.skipIf(browserPath === undefined)("a report in a browser", () => {
  let page: Page;
  const computed = (name: string) => page.value<string>(`getComputedStyle(document.body).${name}`);
  const media = (mediaType: string, scheme: string) =>
    page.call("Emulation.setEmulatedMedia", {
      media: mediaType,
      features: [{ name: "prefers-color-scheme", value: scheme }],
    });

  beforeAll(async () => {
    const units = `units: [{ id: LM-01, site: ${JSON.stringify(hostile)} }, { id: LM-02 }]`;
    const cwd = folderWith({ "fleet.yaml": `fleet: ${JSON.stringify(hostile)}\n${units}\n` });
    const args = ["--state", await keptMonth(), "--from", "2026-04-01", "--to", "2026-04-11"];
    await called(["report", "fleet.yaml", ...args, "--out", "april.html"], { cwd });
    page = await openPage(join(cwd, "april.html"));
  }, 30_000);
  afterAll(() => page?.close());

  it("loads without a request of its own and without a complaint", () => {
    const requests = page.told.filter(({ method }) => method === "Network.requestWillBeSent");
    expect(requests).toHaveLength(1);
    expect(page.told.filter(({ method }) => method === "Log.entryAdded")).toEqual([]);
  });

  it("holds what others wrote as text", async () => {
    expect(await page.value("document.scripts.length")).toBe(0);
    expect(await page.value("document.querySelector('h1').textContent")).toBe(
      `${hostile.replace("\u001b", "␛")}: pump report`,
    );
  });

  it("gives a reading aid named plots, tables with heads, and no unnamed link", async () => {
    const { nodes } = await page.call<{ nodes: Node[] }>("Accessibility.getFullAXTree");
    const of = (role: string) => nodes.filter((node) => !node.ignored && node.role?.value === role);
    expect(of("image").map(({ name }) => name?.value.slice(0, 6))).toEqual(["LM-01:", "LM-01:", "LM-01:"]);
    expect(of("table").length).toBeGreaterThan(3);
    expect(of("columnheader").length).toBeGreaterThan(20);
    expect(of("rowheader").length).toBeGreaterThan(10);
    for (const node of [...of("table"), ...of("link"), ...of("heading")])
      expect(node.name?.value).not.toBe("");
    expect(of("main")).toHaveLength(1);
  });

  it("is dark where the screen asks for it; paper is white all the same", async () => {
    await media("screen", "light");
    expect(await computed("backgroundColor")).toBe("rgb(255, 255, 255)");
    await media("screen", "dark");
    expect(await computed("backgroundColor")).toBe("rgb(20, 24, 28)");
    await media("print", "dark");
    expect(await computed("backgroundColor")).toBe("rgb(255, 255, 255)");
    expect(await computed("color")).toBe("rgb(27, 31, 35)");
  });

  it("fits a narrow screen: nothing but a wide table is scrolled sideways", async () => {
    await media("screen", "light");
    await page.call("Emulation.setDeviceMetricsOverride", {
      width: 400,
      height: 800,
      deviceScaleFactor: 1,
      mobile: false,
    });
    expect(await page.value("document.documentElement.scrollWidth")).toBeLessThanOrEqual(400);
  });

  it("prints on paper, with no table wider than a sheet of A4 within its margins", async () => {
    await media("print", "light");
    // 210 mm less twice 15 mm, at 96 px an inch.
    const width = Math.floor((180 / 25.4) * 96);
    await page.call("Emulation.setDeviceMetricsOverride", {
      width,
      height: 1000,
      deviceScaleFactor: 1,
      mobile: false,
    });
    expect(await page.value("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    const brokenWords = await page.value<string[]>(`[...document.querySelectorAll("thead th, .number")]
      .flatMap((cell) => [...cell.childNodes].filter((node) => node.nodeType === 3).flatMap((node) =>
        [...node.data.matchAll(/\\S+/g)].filter(({ 0: word, index }) => {
          const range = document.createRange();
          range.setStart(node, index);
          range.setEnd(node, index + word.length);
          return range.getClientRects().length > 1;
        }).map(([word]) => word)))`);
    expect(brokenWords).toEqual([]);
    const { data } = await page.call<{ data: string }>("Page.printToPDF");
    expect(Buffer.from(data, "base64").subarray(0, 5).toString()).toBe("%PDF-");
  });
});
