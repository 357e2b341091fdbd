/** An element of XML with its attributes and the text that stands directly in it. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly depth: number;
  text: string;
}

const entities: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };
const attribute = /\s+([a-zA-Z][\w:-]*)="([^"<]*)"/y;

/**
 * The elements of a document in their order. Takes the part of XML 1.0 that a plain picture needs: elements, attributes
 * in double quotes, text, the five entities; throws for anything else, and for what is not well-formed.
 */
export function readXml(document: string): readonly XmlElement[] {
  const elements: XmlElement[] = [];
  const open: XmlElement[] = [];
  const roots = (): number => elements.filter(({ depth }) => depth === 0).length;
  for (const [, mark, text] of document.matchAll(/(<[^>]*>)|([^<]+|<)/g)) {
    if (mark === undefined) {
      const inside = open.at(-1);
      if (inside !== undefined) inside.text += plain(text);
      else if (text.trim() !== "") throw new Error(`text outside the root: ${text}`);
    } else if (mark.startsWith("</")) {
      const last = open.pop();
      if (mark !== `</${last?.name}>`) throw new Error(`${mark} closes ${last?.name}`);
    } else {
      const element = opened(mark, open.length);
      elements.push(element);
      if (!mark.endsWith("/>")) open.push(element);
    }
  }
  if (open.length > 0 || roots() !== 1) throw new Error(`${roots()} roots, ${open.length} left open`);
  return elements;
}

function opened(mark: string, depth: number): XmlElement {
  const name = /^<([a-zA-Z][\w:-]*)/.exec(mark)?.[1];
  if (name === undefined) throw new Error(`not a mark of an element: ${mark}`);
  const attributes: Record<string, string> = {};
  let at = name.length + 1;
  attribute.lastIndex = at;
  for (let found = attribute.exec(mark); found !== null; found = attribute.exec(mark)) {
    const [, key, value] = found;
    if (key in attributes) throw new Error(`${key} twice: ${mark}`);
    attributes[key] = plain(value);
    at = attribute.lastIndex;
  }
  if (!/^\s*\/?>$/.test(mark.slice(at))) throw new Error(`not understood in ${mark}: ${mark.slice(at)}`);
  return { name, attributes, depth, text: "" };
}

function plain(text: string): string {
  // XML 1.0, 2.2: no control characters but tab and line ends.
  if (/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u.test(text))
    throw new Error(`control in ${text}`);
  return text.replace(/&(\w*;?)/g, (whole, name: string) => {
    const meant = name.endsWith(";") ? entities[name.slice(0, -1)] : undefined;
    if (meant === undefined) throw new Error(`not an entity: ${whole}`);
    return meant;
  });
}
