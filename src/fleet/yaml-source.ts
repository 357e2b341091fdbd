import {
  type Alias,
  type Document,
  isAlias,
  isMap,
  isPair,
  isScalar,
  isSeq,
  LineCounter,
  parseAllDocuments,
  visit,
  type YAMLError,
} from "yaml";
import { visible } from "../terms/text.ts";
import { quoted } from "./quantity.ts";

export type Path = readonly PropertyKey[];

/** A place in a text, from 1. */
interface Place {
  readonly line: number;
  readonly column: number;
}

/** A YAML text as plain data, with the place of every key and item. */
export interface YamlSource {
  readonly data: unknown;
  /** Where the key or list item at `path` stands; where there is none, its nearest parent. */
  placeOf(path: Path): Place;
}

export interface PlacedProblem extends Place {
  readonly problem: string;
}

/** Far more than the largest fleet one collector can follow. */
const longestText = 16 * 1024 * 1024;
const mostAliasUses = 1000;
const tooDeep = "the file is nested too deeply; write plain lists and mappings";

/** Keys whose text stays as written, or that of their list's items: `id: 007` is the id 007, not the number 7. */
const verbatim = new Set([
  ...["id", "site", "serial", "unit", "customer", "by", "access", "fleet", "column", "log"],
  ...["command", "way", "to", "escalate_to", "sites", "user"],
]);

function placeAt(text: string, offset: number): Place {
  const before = text.slice(0, offset);
  return { line: before.split("\n").length, column: offset - before.lastIndexOf("\n") };
}

/** What to write instead, by the code of the parser's error. */
function inWords(error: YAMLError, text: string): string {
  const there = text.slice(error.pos[0]).split("\n", 1)[0]?.trim() ?? "";
  const { code, message } = error;
  if (code === "DUPLICATE_KEY")
    return `the key ${quoted(there.split(":", 1)[0])} is written twice; write it once`;
  if (code === "TAB_AS_INDENT") return "a tab stands where lines are indented; write spaces";
  if (code === "BLOCK_AS_IMPLICIT_KEY") {
    return "a second ': ' stands on this line; write the value in quotes";
  }
  if (code === "TAG_RESOLVE_FAILED") {
    return `the tag ${quoted(there.split(" ", 1)[0])} is not known; write the value without it`;
  }
  if (/end with a|closing/.test(message)) return "a bracket or quote is not closed; write its end";
  if (code === "BAD_INDENT" || message.includes("without - indicator")) {
    return "this line does not line up with its neighbours; indent it like the lines beside it";
  }
  const [reason = ""] = message.split("\n", 1);
  return `this is not YAML: ${visible(reason).replace(/[.:]$/, "")}; write key: value`;
}

function childOf(
  node: unknown,
  key: PropertyKey,
  document: Document,
): { at?: number; value: unknown } | undefined {
  const here = isAlias(node) ? node.resolve(document) : node;
  if (isMap(here)) {
    const pair = here.items.find((item) => String(isScalar(item.key) ? item.key.value : item.key) === key);
    if (pair === undefined) return undefined;
    return { at: rangeStart(pair.key), value: pair.value };
  }
  if (isSeq(here) && typeof key === "number" && key in here.items) {
    const item = here.items[key];
    return { at: rangeStart(item), value: isPair(item) ? item.value : item };
  }
  return undefined;
}

function rangeStart(node: unknown): number | undefined {
  return (node as { range?: readonly number[] | null } | null)?.range?.[0];
}

function keepVerbatim(document: Document): void {
  visit(document, {
    Pair(_, pair) {
      if (!isScalar(pair.key) || !verbatim.has(String(pair.key.value))) return;
      for (const scalar of isSeq(pair.value) ? pair.value.items : [pair.value]) {
        if (isScalar(scalar) && scalar.source !== undefined && scalar.value !== null)
          scalar.value = scalar.source;
      }
    },
  });
}

function danglingAliases(document: Document): readonly Alias[] {
  const dangling: Alias[] = [];
  visit(document, {
    Alias(_, alias) {
      if (alias.resolve(document) === undefined) dangling.push(alias);
    },
  });
  return dangling;
}

function one(problem: string, place: Place = { line: 1, column: 1 }): { problems: readonly PlacedProblem[] } {
  return { problems: [{ ...place, problem }] };
}

/** Reads a YAML text of one document; never throws, however the text is made. */
export function readYaml(text: string): YamlSource | { problems: readonly PlacedProblem[] } {
  if (text.length > longestText) {
    const length = Math.ceil(text.length / 1024 / 1024);
    return one(
      `the file holds ${length} million characters; write at most ${longestText / 1024 / 1024} million`,
    );
  }
  const nul = text.indexOf("\0");
  if (nul >= 0) return one("a NUL byte stands here; write the file as UTF-8 text", placeAt(text, nul));
  if (text.trim() === "") return one("the file is empty; write at least units: with an id");
  try {
    return read(text);
  } catch (error) {
    if (error instanceof RangeError) return one(tooDeep);
    if (error instanceof ReferenceError) return one("too many aliases; write the values themselves");
    throw error;
  }
}

function read(text: string): YamlSource | { problems: readonly PlacedProblem[] } {
  const lines = new LineCounter();
  const place = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(line, 1), column: Math.max(col, 1) };
  };
  const documents = parseAllDocuments(text, { lineCounter: lines, prettyErrors: false, stringKeys: true });
  const document = documents[0];
  if (!Array.isArray(documents) || document === undefined)
    return one("the file is empty; write at least units: with an id");
  const faults = [...document.errors, ...document.warnings];
  const [first] = faults;
  if (first !== undefined) {
    if (first.message.includes("call stack")) return one(tooDeep, place(first.pos[0]));
    // What follows a fault in the syntax is mostly its consequence; doubled keys stand each for itself.
    const told =
      first.code === "DUPLICATE_KEY" ? faults.filter(({ code }) => code === "DUPLICATE_KEY") : [first];
    return { problems: told.map((fault) => ({ ...place(fault.pos[0]), problem: inWords(fault, text) })) };
  }
  const second = documents[1];
  if (second !== undefined) {
    return one("a second document begins; write one document without ---", place(second.range[0]));
  }
  if (!isMap(document.contents)) {
    return one("the file is not a mapping; write key: value lines, such as units:");
  }
  const dangling = danglingAliases(document);
  if (dangling.length > 0) {
    return {
      problems: dangling.map((alias) => ({
        ...place(rangeStart(alias) ?? 0),
        problem: `${quoted(`*${alias.source}`)} begins with *, which YAML takes for an alias; write it in quotes`,
      })),
    };
  }
  keepVerbatim(document);
  return {
    data: document.toJS({ maxAliasCount: mostAliasUses }),
    placeOf(path) {
      let node: unknown = document.contents;
      let offset = rangeStart(node) ?? 0;
      for (const key of path) {
        const child = childOf(node, key, document);
        if (child === undefined) break;
        offset = child.at ?? offset;
        node = child.value;
      }
      return place(offset);
    },
  };
}
