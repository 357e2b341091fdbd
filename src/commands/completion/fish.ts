import { customerNames, siteNames, unitIds } from "./quote.ts";
import { allOf, type CommandNode, type Value } from "./tree.ts";

/** Text as one word of fish, which knows two escapes within quotes. */
const quote = (text: string): string => `'${text.replaceAll("\\", "\\\\").replaceAll("'", "\\'")}'`;

function value(of: Value): string {
  switch (of.is) {
    case "file":
      return " -F";
    case "folder":
      return ` -a ${quote("(__fish_complete_directories)")}`;
    case "unit":
      return ` -a ${quote("(__tarnwatch_units)")}`;
    case "site":
      return ` -a ${quote("(__tarnwatch_sites)")}`;
    case "customer":
      return ` -a ${quote("(__tarnwatch_customers)")}`;
    case "words":
      return ` -a ${quote(of.words.map((word) => word.replaceAll(" ", "\\ ")).join(" "))}`;
    case "free":
      return "";
  }
}

/** When a command is the one being written: its words were, and none of the commands below it. */
function when({ path, commands }: CommandNode): string {
  const seen = path
    .split(" ")
    .filter((word) => word !== "")
    .map((word) => `__fish_seen_subcommand_from ${word}`);
  const below = commands.map(({ name }) => name);
  const not = below.length === 0 ? [] : [`not __fish_seen_subcommand_from ${below.join(" ")}`];
  return quote([...seen, ...not].join("; and "));
}

function linesOf(node: CommandNode): string[] {
  const on = `complete -c tarnwatch -n ${when(node)}`;
  const options = node.options.map(({ names, description, value: takes }) => {
    const written = names.map((name) =>
      name.startsWith("--") ? `-l ${name.slice(2)}` : `-s ${name.slice(1)}`,
    );
    return `${on} ${written.join(" ")}${takes === undefined ? "" : ` ${takes.is === "file" ? "-r" : "-x"}${value(takes)}`} -d ${quote(description)}`;
  });
  const commands = node.commands.map(({ name, description }) => `${on} -a ${name} -d ${quote(description)}`);
  const places = [...new Set(node.places.map(value))]
    .filter((offer) => offer !== "")
    .map((offer) => `${on}${offer}`);
  return [...commands, ...options, ...places];
}

/** The completion as fish sources it. It offers what any place of a command takes, whichever place is written. */
export function fishScript(tree: CommandNode): string {
  return `# Completion of tarnwatch for fish: tarnwatch completion fish > ~/.config/fish/completions/tarnwatch.fish
function __tarnwatch_units
    ${unitIds}
end
function __tarnwatch_sites
    ${siteNames}
end
function __tarnwatch_customers
    ${customerNames}
end
complete -c tarnwatch -f
${allOf(tree).flatMap(linesOf).join("\n")}`;
}
