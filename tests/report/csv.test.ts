import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Cell, csvLines } from "../../src/report/csv.ts";

const csvText = (heads: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  [...csvLines([heads, ...rows])].join("");

/** Sources: RFC 4180, section 2; what begins a formula: OWASP, CSV Injection. */
describe("CSV", () => {
  it("quotes what RFC 4180 asks for, doubles quotes, and ends each line with CRLF", () => {
    expect(
      csvText(
        ["a", "b"],
        [
          ['say "no"', "x,y"],
          ["plain", null],
        ],
      ),
    ).toBe('a,b\r\n"say ""no""","x,y"\r\nplain,\r\n');
  });

  it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", '=HYPERLINK("http://x")'])(
    "text that a spreadsheet would take for a formula is led by an apostrophe: %j",
    (text) => {
      const [[cell]] = parse(csvText(["a"], [[text]]), { from_line: 2 }) as string[][];
      expect(cell.startsWith("'")).toBe(true);
    },
  );

  it("a number stays a number, also below zero, and what is none is empty", () => {
    expect(csvText(["a", "b", "c"], [[-11.4, 0, Number.NaN]])).toBe("a,b,c\r\n-11.4,0,\r\n");
  });

  it("what a reader of RFC 4180 gets is what was written, and no cell begins a formula", () => {
    const text = fc.string({ unit: "grapheme-ascii", minLength: 1 });
    fc.assert(
      fc.property(fc.array(fc.tuple(text, text), { minLength: 1 }), (rows) => {
        const back = parse(csvText(["a", "b"], rows), {
          from_line: 2,
          record_delimiter: "\r\n",
        }) as string[][];
        expect(back).toHaveLength(rows.length);
        for (const [i, cells] of back.entries()) {
          for (const [j, cell] of cells.entries()) {
            expect(cell).not.toMatch(/^[=+\-@\t\r\n]/);
            expect(cell.replace(/^'/, "")).toBe(rows[i][j].replace(/^'/, ""));
          }
        }
      }),
    );
  });
});
