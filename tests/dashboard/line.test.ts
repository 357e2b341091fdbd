import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ascii } from "../../src/dashboard/ascii.ts";
import { ends, fitted, lineWidth, span, textOf } from "../../src/dashboard/line.ts";
import { paint, themeOf } from "../../src/dashboard/theme.ts";
import { truncateStart, widthOf, wrap } from "../../src/dashboard/width.ts";

describe("rows stay straight", () => {
  test("a row is as wide as asked, whatever a site is called", () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ unit: "grapheme" })),
        fc.integer({ min: 1, max: 60 }),
        (texts, width) => {
          expect(
            lineWidth(
              fitted(
                texts.map((text) => span(text)),
                width,
              ),
            ),
          ).toBe(width);
        },
      ),
    );
  });

  test("a wide character counts two columns, and is not cut in half", () => {
    expect(textOf(fitted([span("池塘泵站")], 6))).toBe("池塘… ");
    expect(textOf(fitted([span("池塘")], 6))).toBe("池塘  ");
  });

  test("what does not fit ends in an ellipsis", () => {
    expect(textOf(fitted([span("Heron "), span("Bend")], 8))).toBe("Heron B…");
  });

  test("the right end is kept where both ends do not fit", () => {
    expect(textOf(ends([span("LM-03 Otter Pool")], [span("running")], 16))).toBe("LM-03 O… running");
  });

  test("a path keeps its end, which tells most", () => {
    expect(truncateStart("/var/lib/tarnwatch/larkmoor", 12)).toBe("…ch/larkmoor");
  });

  test("wrapped text loses no word and no row is too wide", () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ unit: "grapheme-ascii", minLength: 1 })),
        fc.integer({ min: 2, max: 40 }),
        (words, width) => {
          const text = words.join(" ");
          const lines = wrap(text, width);
          for (const line of lines) expect(widthOf(line)).toBeLessThanOrEqual(width);
          expect(lines.join("").replaceAll(/\s/g, "")).toBe(text.replaceAll(/\s/g, ""));
        },
      ),
    );
  });
});

describe("what comes from logs cannot take over the screen", () => {
  test("an escape sequence in a name is shown, not obeyed", () => {
    expect(span("Pool\u001b[2J").text).toBe("Pool␛[2J");
  });

  test("no control character reaches the terminal but the dashboard's own attributes", () => {
    const theme = { colour: true, attributes: true, unicode: true };
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (name) => {
        const sent = paint([span(name, "strong")], theme)
          .replaceAll("\u001b[1m", "")
          .replaceAll("\u001b[0m", "");
        expect(sent).not.toMatch(/\p{Cc}/u);
      }),
    );
  });
});

describe("what the terminal can show", () => {
  test.each([
    [{ LANG: "en_US.UTF-8", TERM: "xterm" }, true],
    [{ LC_ALL: "C", LANG: "en_US.UTF-8", TERM: "xterm" }, false],
    [{ LC_CTYPE: "de_DE.utf8", TERM: "screen" }, true],
    [{ TERM: "xterm" }, false],
    [{ LANG: "en_US.UTF-8", TERM: "linux" }, false],
    [{ LANG: "en_US.UTF-8", TERM: "dumb" }, false],
  ])("by locale and TERM: %o draws Unicode: %s", (env, unicode) => {
    expect(themeOf(env, 8, "linux").unicode).toBe(unicode);
  });

  test("NO_COLOR takes colour away, whatever the terminal has", () => {
    expect(themeOf({ NO_COLOR: "1", TERM: "xterm" }, 24, "linux").colour).toBe(false);
    expect(themeOf({ NO_COLOR: "", TERM: "xterm" }, 24, "linux").colour).toBe(true);
  });

  test("colours come from the 16 that every colour terminal has", () => {
    const theme = { colour: true, attributes: true, unicode: true };
    for (const style of ["high", "medium", "low"] as const)
      expect(paint([span("x", style)], theme).replaceAll("\u001b", "")).toMatch(/^\[(1;)?3\d;4\dmx\[0m$/);
    for (const style of ["plain", "dim", "strong", "selected"] as const)
      expect(paint([span("x", style)], theme)).not.toMatch(/3\d|4\d/);
  });

  test("the ASCII form is as wide as what it stands for", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (name) => {
        const { text } = span(`■ ${name} ━●─ 池`);
        expect(ascii(text)).toMatch(/^[\x20-\x7e]*$/);
        expect(ascii(text).length).toBe(widthOf(text));
      }),
    );
    expect(ascii("Mühle ├─━●┤ 58 °C")).toBe("Muhle |-=O| 58  C");
  });
});
