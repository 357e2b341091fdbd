import type { Argument, Command, Option } from "commander";
import { ruleSettings } from "../../detect/rules.ts";
import { groundFaults } from "../../fleet/visit.ts";
import { triedKeys } from "../../fleet/what-if.ts";
import { alarmNames } from "../../terms/alarms.ts";
import { wordActions } from "../../terms/words.ts";
import { works } from "../../terms/works.ts";

/** What may stand in a place of the command line. */
export type Value =
  | { readonly is: "file" | "folder" | "unit" | "site" | "customer" | "free" }
  /** `open`: something is to follow, without a blank. */
  | { readonly is: "words"; readonly words: readonly string[]; readonly open?: true };

export interface OptionNode {
  /** `--state`, and `-h` where there is one. */
  readonly names: readonly string[];
  readonly description: string;
  /** Undefined where it takes none. */
  readonly value?: Value;
}

/** A command with what may follow it. */
export interface CommandNode {
  /** Its words from the program on, parted by a blank; empty for the program itself. */
  readonly path: string;
  readonly name: string;
  readonly description: string;
  readonly options: readonly OptionNode[];
  readonly places: readonly Value[];
  readonly commands: readonly CommandNode[];
}

/** What the words in `<…>` and `[…]` of the help stand for. */
const places: Readonly<Record<string, Value>> = {
  fleet: { is: "file" },
  log: { is: "file" },
  file: { is: "file" },
  files: { is: "file" },
  folder: { is: "folder" },
  unit: { is: "unit" },
  id: { is: "unit" },
  alarm: { is: "words", words: [...alarmNames, "all"] },
  action: { is: "words", words: wordActions },
  work: { is: "words", words: works },
  result: { is: "words", words: groundFaults },
  answer: { is: "words", words: ["confirm", "relearn"] },
};

/** What options take whose word in the help says too little. */
const ofOption: Readonly<Record<string, () => Value>> = {
  "--site": () => ({ is: "site" }),
  "--customer": () => ({ is: "customer" }),
  "--what-if": () => ({
    is: "words",
    words: triedKeys(ruleSettings).map((key) => `${key}=`),
    open: true,
  }),
};

function valueNamed(name: string, choices: readonly string[] | undefined): Value {
  if (choices !== undefined) return { is: "words", words: choices };
  return places[name] ?? { is: "free" };
}

function optionNode(option: Option): OptionNode {
  const names = [option.long, option.short].flatMap((name) => name ?? []);
  const name = /[<[]([^.>\]]+)/.exec(option.flags)?.[1];
  return {
    names,
    description: option.description,
    ...(name !== undefined && {
      value: ofOption[option.long ?? ""]?.() ?? valueNamed(name, option.argChoices),
    }),
  };
}

/** A command of commander's as what a shell is to know of it. */
export function treeOf(command: Command, path = ""): CommandNode {
  const help = command.createHelp();
  const commands = help.visibleCommands(command).filter((one) => one.name() !== "help");
  return {
    path,
    name: command.name(),
    description: command.description().replaceAll("\n", " "),
    options: help.visibleOptions(command).map(optionNode),
    places: command.registeredArguments.map((argument: Argument) =>
      valueNamed(argument.name(), argument.argChoices),
    ),
    commands: commands.map((one) => treeOf(one, `${path} ${one.name()}`.trim())),
  };
}

/** The command and all below it. */
export function allOf(node: CommandNode): readonly CommandNode[] {
  return [node, ...node.commands.flatMap(allOf)];
}
