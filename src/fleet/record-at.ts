import { isMap, isSeq, type Node, type Pair, parseDocument, type YAMLMap } from "yaml";

/**
 * A fleet file's text with one key of one unit set to `value`, YAML in one line; all else stays as it is written, comments
 * too. Null where the unit is not written as a mapping of its own.
 */
export function withUnitKey(text: string, unit: string, key: string, value: string): string | null {
  const units = parseDocument(text).get("units", true);
  const found = isSeq(units)
    ? units.items.find((item): item is YAMLMap<Node, Node> => isMap(item) && item.get("id") === unit)
    : undefined;
  if (found === undefined) return null;
  const pairOf = (name: string): Pair<Node, Node> | undefined =>
    found.items.find((pair) => String(pair.key) === name);
  const there = pairOf(key)?.value?.range;
  if (there) {
    const [from, to] = there;
    // A value of several rows ends after its last line end.
    return text.slice(0, from) + value + (text[to - 1] === "\n" ? "\n" : "") + text.slice(to);
  }
  if (found.flow) {
    const end = (found.range?.[1] ?? 0) - 1;
    const before = text.slice(0, end).trimEnd();
    return `${before}${before.endsWith(",") ? "" : ","} ${key}: ${value} ${text.slice(end)}`;
  }
  const id = pairOf("id");
  const from = id?.key.range?.[0];
  const to = id?.value?.range?.[1];
  if (from === undefined || to === undefined) return null;
  const column = from - (text.lastIndexOf("\n", from - 1) + 1);
  const lineEnd = text.indexOf("\n", to);
  const at = lineEnd < 0 ? text.length : lineEnd;
  return `${text.slice(0, at)}\n${" ".repeat(column)}${key}: ${value}${text.slice(at)}`;
}
