/** Columns of a plain terminal, and of a printed list. */
const usualWidth = 80;

/** A text in lines of a terminal's width: the first after `lead`, the others as far in. */
export function wrapped(text: string, lead: string, width = usualWidth): string[] {
  const lines: string[] = [];
  let line = lead;
  for (const word of text.split(" ")) {
    const joined = line.length === lead.length ? line + word : `${line} ${word}`;
    if (joined.length <= width || line.length === lead.length) line = joined;
    else {
      lines.push(line);
      line = " ".repeat(lead.length) + word;
    }
  }
  return [...lines, line];
}
