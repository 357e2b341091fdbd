import { quote } from "./quote.ts";
import { allOf, type CommandNode, type Value } from "./tree.ts";

/** How a shell of Bourne's line offers what fits. */
export interface Offers {
  value(value: Value): string;
  commands(node: CommandNode): string;
  options(node: CommandNode): string;
}

/**
 * The body that bash and zsh share. Before it `words` holds the words before the one to complete, without the
 * program; `current` is that one.
 */
export function walk(tree: CommandNode, offers: Offers): string {
  const nodes = allOf(tree);
  const key = (path: string, word: string) => quote(`${path}:${word}`);
  const into = nodes.flatMap(({ commands, path }) =>
    commands.map((one) => `      ${key(path, one.name)}) where=${quote(one.path)}; place=0 ;;`),
  );
  const taking = nodes.flatMap(({ options, path }) =>
    options
      .filter(({ value }) => value !== undefined)
      .flatMap(({ names }) => names.map((name) => key(path, name))),
  );
  const values = nodes.flatMap(({ options, path }) =>
    options.flatMap(({ names, value }) =>
      value === undefined
        ? []
        : [`      ${names.map((name) => key(path, name)).join("|")}) ${offers.value(value)} ;;`],
    ),
  );
  const atPlaces = nodes.flatMap(({ places, path }) =>
    places.map((value, i) => `      ${key(path, String(i))}) ${offers.value(value)} ;;`),
  );
  const commands = nodes
    .filter((node) => node.commands.length > 0)
    .map((node) => `      ${key(node.path, "0")}) ${offers.commands(node)} ;;`);
  const options = nodes.map((node) => `      ${quote(node.path)}) ${offers.options(node)} ;;`);
  return `  local where='' place=0 taking='' word
  for word in "\${words[@]}"; do
    if [[ -n $taking ]]; then taking=''; continue; fi
    case "$where:$word" in
${into.join("\n")}
      ${taking.join("|")}) taking=$word ;;
      *:-*) ;;
      *) place=$((place + 1)) ;;
    esac
  done
  if [[ -n $taking ]]; then
    case "$where:$taking" in
${values.join("\n")}
    esac
  elif [[ $current == -* ]]; then
    case "$where" in
${options.join("\n")}
    esac
  else
    case "$where:$place" in
${commands.join("\n")}
    esac
    case "$where:$place" in
${atPlaces.join("\n")}
    esac
  fi`;
}
