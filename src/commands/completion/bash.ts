import { customerNames, quote, siteNames, unitIds } from "./quote.ts";
import type { CommandNode, Value } from "./tree.ts";
import { walk } from "./walk.ts";

/** What has a blank in it is offered as one word, and quoted as a name of a file is. */
function words(list: readonly string[]): string {
  if (!list.some((word) => word.includes(" "))) return `_tarnwatch_offer -W ${quote(list.join(" "))}`;
  return byLine(quote(list.join("\n")));
}

const byLine = (lines: string): string =>
  `local IFS=$'\\n'; _tarnwatch_offer -W ${lines}; compopt -o filenames 2>/dev/null`;

function value(of: Value): string {
  switch (of.is) {
    case "file":
      return "_tarnwatch_offer -f; compopt -o filenames 2>/dev/null";
    case "folder":
      return "_tarnwatch_offer -d; compopt -o filenames 2>/dev/null";
    case "unit":
      return `_tarnwatch_offer -W "$(${unitIds})"`;
    case "site":
      return byLine(`"$(${siteNames})"`);
    case "customer":
      return byLine(`"$(${customerNames})"`);
    case "words":
      return `${words(of.words)}${of.open ? "; compopt -o nospace 2>/dev/null" : ""}`;
    case "free":
      return ":";
  }
}

/** The completion as bash sources it. */
export function bashScript(tree: CommandNode): string {
  const body = walk(tree, {
    value,
    commands: ({ commands }) => words(commands.map(({ name }) => name)),
    options: ({ options }) => words(options.flatMap(({ names }) => names)),
  });
  return `# Completion of tarnwatch for bash: source <(tarnwatch completion bash)
_tarnwatch_offer() {
  local one
  while IFS= read -r one; do COMPREPLY+=("$one"); done < <(compgen "$@" -- "$current")
}
_tarnwatch() {
  local current=\${COMP_WORDS[COMP_CWORD]}
  local words=("\${COMP_WORDS[@]:1:COMP_CWORD-1}")
  COMPREPLY=()
${body}
}
complete -F _tarnwatch tarnwatch`;
}
