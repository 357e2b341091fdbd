import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { alarmNames } from "../../src/terms/alarms.ts";
import { works } from "../../src/terms/works.ts";
import { called } from "../support/called.ts";
import { folderWith, onlyError } from "../support/program.ts";

const script = async (shell: string) => (await called(["completion", shell])).stdout;
const bash = ["/bin/bash", "/usr/bin/bash"].find((path) => existsSync(path));

/** What bash offers after these words, the last of which is being written; in a folder with a fleet file. */
async function offered(...words: readonly string[]): Promise<readonly string[]> {
  const cwd = folderWith({
    "fleet.yaml":
      'sites:\n  Heron Bend: { customer: "Park Board" }\n  Mill Pond:\n    customer: Park Board\nunits:\n  - id: LM-01\n  - { id: LM-02 }\n  - id: "OX.1" # the far one\n    site: id\n',
    "logs/LM-01.csv": "",
  });
  const press = `${await script("bash")}
COMP_WORDS=(tarnwatch "$@")
COMP_CWORD=$#
_tarnwatch 2>/dev/null
printf '%s\\n' "\${COMPREPLY[@]}"`;
  const stdout = execFileSync(bash ?? "", ["-c", press, "-", ...words], { cwd, encoding: "utf8" });
  return stdout.split("\n").filter((line) => line !== "");
}

describe("completion", () => {
  it.skipIf(bash === undefined)("offers the commands, and those below a command (in bash)", async () => {
    expect(await offered("")).toEqual(expect.arrayContaining(["watch", "check", "init", "service"]));
    expect(await offered("ch")).toEqual(["check"]);
    expect(await offered("service", "b")).toEqual(expect.arrayContaining(["begin", "baseline"]));
    expect(await offered("service", "begin", "b")).toEqual([]);
  });

  it.skipIf(bash === undefined)("offers a command's own options and what they take", async () => {
    expect(await offered("check", "--p")).toEqual(["--priority"]);
    expect(await offered("check", "--priority", "")).toEqual(["high", "medium", "low"]);
    expect(await offered("watch", "--prio")).toEqual([]);
    expect(await offered("history", "--unit", "LM")).toEqual(["LM-01", "LM-02"]);
    expect(await offered("check", "--state", "")).toEqual(["logs"]);
  });

  it.skipIf(bash === undefined)(
    "offers files, the units of ./fleet.yaml, actions and alarms in their places",
    async () => {
      expect(await offered("check", "f")).toEqual(["fleet.yaml"]);
      expect(await offered("init", "")).toEqual(["logs"]);
      expect(await offered("alarm", "ack")).toEqual(["acknowledge"]);
      expect(await offered("alarm", "shelve", "fleet.yaml", "")).toEqual(["LM-01", "LM-02", "OX.1"]);
      expect(await offered("alarm", "shelve", "--for", "2h", "fleet.yaml", "O")).toEqual(["OX.1"]);
      expect(await offered("alarm", "shelve", "fleet.yaml", "LM-01", "")).toEqual([...alarmNames, "all"]);
    },
  );

  it.skipIf(bash === undefined)(
    "offers each kind of service, a test's results, keys to try, and the sites and customers of ./fleet.yaml",
    async () => {
      expect(await offered("service", "done", "fleet.yaml", "LM-01", "")).toEqual([...works]);
      const done = ["service", "done", "fleet.yaml", "LM-01", "inspection"];
      expect(await offered(...done, "--ground-fault", "")).toEqual(["tripped", "did not trip"]);
      expect(await offered("site", "--what-if", "suction_l")).toEqual(["suction_lift=", "suction_length="]);
      expect(await offered("report", "--site", "")).toEqual(["Heron Bend", "Mill Pond"]);
      expect(await offered("report", "--customer", "P")).toEqual(["Park Board"]);
    },
  );

  it.each(["bash", "zsh", "fish"])(
    "names every command and option that --help names, for %s",
    async (shell) => {
      const text = await script(shell);
      const { stdout } = await called(["--help"]);
      const commands = [...stdout.matchAll(/^ {2}([a-z]+) /gm)]
        .map(([, name]) => name)
        .filter((name) => name !== "help");
      expect(commands.length).toBeGreaterThan(12);
      for (const command of commands) {
        expect(text).toMatch(new RegExp(`\\b${command}\\b`));
        const help = (await called([command, "--help"])).stdout;
        for (const [, option] of help.matchAll(/^ {2}(?:-\w, )?--([a-z-]+)/gm)) {
          expect([command, option, new RegExp(`(?:--|-l )${option}\\b`).test(text)]).toEqual([
            command,
            option,
            true,
          ]);
        }
      }
    },
  );

  it("is for three shells, and says so of another", async () => {
    expect(onlyError(await called(["completion", "ksh"]))).toContain("bash, zsh, fish");
  });
});
