import { customerNames, quote, siteNames, unitIds } from "./quote.ts";
import type { CommandNode, Value } from "./tree.ts";
import { walk } from "./walk.ts";

function value(of: Value): string {
  switch (of.is) {
    case "file":
      return "_files";
    case "folder":
      return "_files -/";
    case "unit":
      return `compadd -- \${(f)"$(${unitIds})"}`;
    case "site":
      return `compadd -- \${(f)"$(${siteNames})"}`;
    case "customer":
      return `compadd -- \${(f)"$(${customerNames})"}`;
    case "words":
      return `compadd ${of.open ? "-S '' " : ""}-- ${of.words.map(quote).join(" ")}`;
    case "free":
      return ":";
  }
}

const described = (name: string, description: string): string =>
  quote(`${name.replaceAll(":", "\\:")}:${description}`);

function offered(what: string, list: readonly string[]): string {
  return `offered=(${list.join(" ")}); _describe ${quote(what)} offered`;
}

/** The completion as zsh finds it on its fpath, or sources it. */
export function zshScript(tree: CommandNode): string {
  const body = walk(tree, {
    value,
    commands: ({ commands }) =>
      offered(
        "command",
        commands.map(({ name, description }) => described(name, description)),
      ),
    options: ({ options }) =>
      offered(
        "option",
        options.flatMap(({ names, description }) => names.map((name) => described(name, description))),
      ),
  });
  return `#compdef tarnwatch
# Completion of tarnwatch for zsh: tarnwatch completion zsh > a folder of your fpath/_tarnwatch
_tarnwatch() {
  local -a offered before
  local current=$words[CURRENT]
  before=("\${(@)words[2,CURRENT-1]}")
  () {
    local -a words
    words=("$@")
    ${body.replaceAll("\n", "\n  ").trim()}
  } "\${before[@]}"
}
if [[ $funcstack[1] == _tarnwatch ]]; then _tarnwatch "$@"; else compdef _tarnwatch tarnwatch; fi`;
}
