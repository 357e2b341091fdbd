import { actionIn, actions, wordsOf } from "./actions.ts";
import type { Speaking } from "./prepared.ts";

/** Longer than any line that is right with a note of a few sentences. */
const longest = 240;
const unseen = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu;

/** `text` with what was typed or pasted after it: line ends and control characters count as spaces. */
export function typedOn(text: string, more: string): string {
  return (text + more.replace(unseen, " ")).replace(/^\s+/, "").slice(0, longest);
}

export function typedBack(text: string): string {
  return [...text].slice(0, -1).join("");
}

/** What the word that is being typed may become: an action's name, or the first thing that the action needs. */
export function offered(text: string, speaking: Speaking): readonly string[] {
  const action = actionIn(text);
  const [, ...words] = wordsOf(text);
  if (action === undefined) {
    if (/\S\s/.test(text)) return [];
    return matching(
      actions.map(({ name }) => name),
      text,
    );
  }
  const isFirst = words.length === 0 || (words.length === 1 && !/\s$/.test(text));
  return isFirst ? matching(action.offers(speaking), words[0] ?? "") : [];
}

/** The line with its last word made what is offered first. */
export function completed(text: string, speaking: Speaking): string {
  const [first] = offered(text, speaking);
  return first === undefined ? text : `${text.replace(/\S*$/, "")}${first} `;
}

/** Those that begin with what is typed, then those that hold it. */
function matching(names: readonly string[], typed: string): readonly string[] {
  const wanted = typed.trim().toLowerCase();
  const begins = names.filter((name) => name.startsWith(wanted));
  return [...begins, ...names.filter((name) => !name.startsWith(wanted) && name.includes(wanted))];
}
