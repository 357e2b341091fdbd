import { visible } from "../terms/text.ts";

/** A piece of a page that is whole and safe as it stands. */
export interface Markup {
  readonly markup: string;
}

type Filling = Markup | string | number | readonly Filling[];

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text as it may stand in an element or a quoted attribute: control characters made visible, marks of HTML escaped. */
export function escaped(text: string): string {
  return visible(text).replace(/[&<>"']/g, (mark) => entities[mark] ?? mark);
}

function filled(filling: Filling): string {
  if (typeof filling === "string" || typeof filling === "number") return escaped(String(filling));
  return "markup" in filling ? filling.markup : filling.map(filled).join("");
}

/** A piece of a page; what is filled in is escaped, unless it is such a piece itself. Attributes stand in quotes. */
export function html(parts: TemplateStringsArray, ...fillings: readonly Filling[]): Markup {
  return { markup: parts.map((part, i) => part + (i < fillings.length ? filled(fillings[i]) : "")).join("") };
}

export const nothing: Markup = { markup: "" };

/** A table with its caption; the first cell of each row heads the row. Columns of `numbers` stand to the right. */
export function tableOf(
  caption: string,
  heads: readonly string[],
  rows: readonly (readonly Filling[])[],
  numbers: readonly number[] = [],
): Markup {
  const kind = (column: number): string => (numbers.includes(column) ? "number" : "text");
  return html`<div class="scroll" role="region" aria-label="${caption}" tabindex="0"><table>
<caption>${caption}</caption>
<thead><tr>${heads.map((head, i) => html`<th scope="col" class="${kind(i)}">${head}</th>`)}</tr></thead>
<tbody>
${rows.map(
  ([first = "", ...cells]) =>
    html`<tr><th scope="row" class="${kind(0)}">${first}</th>${cells.map((cell, i) => html`<td class="${kind(i + 1)}">${cell}</td>`)}</tr>
`,
)}</tbody>
</table></div>
`;
}
