import type { Command } from "commander";
import { bashScript } from "./completion/bash.ts";
import { fishScript } from "./completion/fish.ts";
import { treeOf } from "./completion/tree.ts";
import { zshScript } from "./completion/zsh.ts";
import { print } from "./context.ts";

const scripts = { bash: bashScript, zsh: zshScript, fish: fishScript } as const;

/** `completion`: prints what a shell needs to complete commands, options, alarms and the unit ids of ./fleet.yaml. */
export async function completion(shell: keyof typeof scripts, program: Command): Promise<number> {
  print(scripts[shell](treeOf(program)));
  return 0;
}
