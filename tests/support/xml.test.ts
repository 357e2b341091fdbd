import { expect, it } from "vitest";
import { readXml } from "./xml.ts";

it("reads elements, attributes and text", () => {
  const [root, child] = readXml('<a b="1 &lt; 2"><c>x &amp; y</c></a>\n');
  expect(root).toEqual({ name: "a", attributes: { b: "1 < 2" }, depth: 0, text: "" });
  expect(child).toEqual({ name: "c", attributes: {}, depth: 1, text: "x & y" });
});

it.each([
  "<a><b></a></b>",
  "<a>",
  "</a>",
  "<a/><b/>",
  "<a/>text",
  "<a>1 < 2</a>",
  "<a>R & D</a>",
  "<a>&nbsp;</a>",
  '<a b="1" b="2"/>',
  "<a b=1/>",
  '<a b="<"/>',
  "<a>\u0007</a>",
])("refuses what is not well-formed: %j", (document) => {
  expect(() => readXml(document)).toThrow();
});
