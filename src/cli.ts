import { readFileSync } from "node:fs";
import { Argument, Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { addServiceCommands } from "./cli-service.ts";
import { positive } from "./cli-values.ts";
import { CannotWork } from "./commands/context.ts";
import { priorities } from "./terms/alarms.ts";
import { visible } from "./terms/text.ts";
import { wordActions } from "./terms/words.ts";

const observes =
  "Tarnwatch observes and advises. It stops no pump and no ozone cell: dry-run cut-out, overload, ground-fault\n" +
  "protection and the ozone interlock are hardware. Silence is no proof of safety. Never restart a unit from afar.";

/** Runs one command and returns the exit status. Commands are imported when called. */
export async function main(args: readonly string[]): Promise<number> {
  let status = 0;
  const program = build(async (command) => {
    status = await command;
  });
  const debug = args.includes("--debug");
  try {
    await program.parseAsync(args, { from: "user" });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (debug) throw error;
    const lines = error instanceof CannotWork ? error.lines : [visible((error as Error).message)];
    for (const line of lines) process.stderr.write(`${line}\n`);
    return error instanceof CannotWork ? 2 : 70;
  }
}

function build(run: (promise: Promise<number>) => Promise<void>): Command {
  const { version } = JSON.parse(readFileSync(new URL("../package.json", import.meta.url), "utf8")) as {
    version: string;
  };
  const program = new Command("tarnwatch")
    .description(
      "Watches a fleet of small unattended pump skids at ponds and lakes from their CSV logs:\n" +
        "which has lost prime, runs hot, has its ozone off or has fallen silent, why, and what to do.",
    )
    .version(version)
    .option("--debug", "show where an error comes from")
    .helpOption("-h, --help", "show this help")
    .addHelpText(
      "after",
      `\n${observes}\n\nExit status: 0 nothing needs attention; 1 something does; 2 it could not do its work.`,
    )
    .configureOutput({
      // One line, without what the caller wrote having its way with the terminal.
      outputError: (text, out) =>
        out(
          `${visible(
            text
              .trim()
              .replace(/^error: /, "")
              .replaceAll("\n", " "),
          )}\n`,
        ),
    })
    .exitOverride()
    // Wherever `--debug` stands, it is the program's own option that takes it.
    .hook("preAction", (whole, called) => {
      if (whole.opts().debug) called.setOptionValue("debug", true);
    });
  const by = () => new Option("--by <name>", "who says it; default the login");
  const state = () => new Option("--state <folder>", "state folder instead of the fleet file's");
  const command = (usage: string, description: string) =>
    program.command(usage).description(description).option("--debug", "show where an error comes from");

  command("watch [fleet]", "the dashboard: follows the logs, runs the rules, shows the fleet")
    .addOption(by())
    .addOption(state())
    .action((fleet, options) => run(import("./commands/watch.ts").then((c) => c.watch(fleet, options))));

  command("collect <fleet>", "the same without a screen, unattended; the only one that notifies")
    .option("--metrics <file>", "keeps an OpenMetrics text file there up to date")
    .addOption(state())
    .action((fleet, options) => run(import("./commands/collect.ts").then((c) => c.collect(fleet, options))));

  command("check [fleet]", "reads what is there and prints the fleet's status once; writes nothing")
    .option(
      "--at <time>",
      "as of this time, such as 14:30 or 2026-05-04 14:30 in the fleet's zone; default now",
    )
    .addOption(
      new Option("--priority <priority>", "exit 1 from this priority on").choices(priorities.slice(0, 3)),
    )
    .option("--json", "as JSON")
    .addOption(new Option("--line", "as one line for a prompt or a login message").conflicts("json"))
    .addOption(state())
    .action((fleet, options) => run(import("./commands/check.ts").then((c) => c.check(fleet, options))));

  command("replay [fleet]", "plays recorded logs through the same rules in log time")
    .option("--events <file>", "writes the events there, one JSON object a line; - for standard output")
    .option("--from <time>", "shows or writes only what is from this time on; all readings are read")
    .option("--to <time>", "reads no reading after this time")
    .option("--speed <n>", "on the screen: how many times faster, or max; default 60", speedValue)
    .option("--again-on-change", "replays whenever the fleet file changes, and tells what differs")
    .addOption(state())
    .option("--services <file>", "services from a CSV file with unit,kind,at instead of the fleet file's")
    .option(
      "--set <rule.setting=value>",
      "another setting for this replay; may be given again",
      (value, all: string[]) => [...all, value],
      [],
    )
    .action((fleet, options) => run(import("./commands/replay.ts").then((c) => c.replay(fleet, options))));

  command(
    "columns <log>",
    "shows how a log is understood: dialect, columns, units, interval, gaps, rejected rows",
  )
    .option("--fleet <file>", "with the columns and the zone of this fleet file")
    .option("--unit <id>", "as the log of this unit")
    .option("--json", "as JSON")
    .action((log, options) => run(import("./commands/columns.ts").then((c) => c.columns(log, options))));

  command("init <folder>", "writes a fleet file for a folder of logs, and says what it guessed and why")
    .option("--out <file>", "the fleet file; default fleet.yaml in the folder; never over an existing one")
    .action((folder, options) => run(import("./commands/init.ts").then((c) => c.init(folder, options))));

  command("notify [fleet]", "tries the ways by which people are told of alarms")
    .option("--test", "sends a message that is plainly a test each configured way")
    .action((fleet, options) => run(import("./commands/notify.ts").then((c) => c.notify(fleet, options))));

  command(
    "site [fleet]",
    "judges each installation's hydraulics and electrics, by its entry in the fleet file",
  )
    .option("--unit <id>", "this unit only")
    .option(
      "--what-if <key=value>",
      "as if the units had this key, such as suction_lift=7ft: before and after; may be given again",
      (value, all: string[]) => [...all, value],
      [],
    )
    .option(
      "--measured <channel=value>",
      "with --unit: what a gauge showed, such as suction_pressure=-12kPa; may be given again",
      (value, all: string[]) => [...all, value],
      [],
    )
    .option("--by <name>", "with --measured: who read the gauges; default: your login")
    .option("--record", "with --measured: keeps it in the fleet file as the unit's commissioning record")
    .option("--json", "as JSON")
    .addOption(state())
    .action((fleet, options) => run(import("./commands/site.ts").then((c) => c.site(fleet, options))));

  command("simulate", "writes the logs of an invented fleet with known faults, its fleet file and truth.csv")
    .option("--out <folder>", "the folder to write into; it must be new or empty")
    .option("--units <n>", "how many units", positive, 8)
    .option("--days <n>", "how many days", positive, 3)
    .option("--interval <time>", "time between readings, 1 s to 10 min", "10 s")
    .option("--from <time>", "time of the first readings", "2026-05-04T00:00:00Z")
    .option("--seed <n>", "the same seed gives the same bytes", whole, 1)
    .option(
      "--fault <name>",
      "this fault instead of all kinds: NAME or NAME,severity=0.5,after=30h; may be given again",
      (value, all: string[]) => [...all, value],
      [],
    )
    .option("--clean", "no faults")
    .option("--list", "names the faults")
    .option("--replace", "replaces an earlier simulation in the folder")
    .action((options) => run(import("./commands/simulate.ts").then((c) => c.simulate(options))));

  command("score", "holds a replay's alarms against known faults")
    .option("--events <file>", "what replay --events wrote; - for standard input")
    .option("--truth <file>", "the known faults: a CSV file with unit,alarm,start,end; - for standard input")
    .option("--fleet <file>", "the fleet file whose logs were replayed: for unit-days and labels")
    .option("--least-recall <share>", "exit 1 below this share of faults caught; default 1", share)
    .option("--most-false <number>", "exit 1 above so many false alarms a unit-day; default 0", notNegative)
    .option("--compare <files...>", "two files of events side by side")
    .option("--label <column>", "by rows: a column of the logs that is 1 where the row is anomalous")
    .option("--skip-rows <n>", "with --label: leaves out so many rows of each unit at its beginning", whole)
    .option("--json", "as JSON")
    .action((options) => run(import("./commands/score.ts").then((c) => c.score(options))));

  command("history [fleet]", "the alarm history kept in the state folder, with what people said")
    .option(
      "--since <time>",
      "from this time on, such as 14:30 or 2026-05-04 14:30; default 7 d before its end",
    )
    .option("--until <time>", "up to this time; default now")
    .option("--unit <id>", "of this unit")
    .option("--json", "an object a line")
    .option("--performance", "how often alarms came, held against the standards' figures")
    .addOption(state())
    .action((fleet, options) => run(import("./commands/history.ts").then((c) => c.history(fleet, options))));

  const note = () => new Option("--note <text>", "a remark that is kept with it");

  command(
    "alarm <action> <fleet> <unit> <alarm>",
    "a person's word on an alarm; `all` stands for a unit's alarms",
  )
    .addOption(by())
    .option("--for <time>", "with shelve: for how long, such as 2h")
    .addOption(note())
    .addOption(state())
    .addHelpText("after", `\nActions: ${wordActions.join(", ")}.`)
    .action((action, fleet, unit, alarm, options) =>
      run(import("./commands/alarm.ts").then((c) => c.alarm(action, fleet, unit, alarm, options))),
    );

  addServiceCommands(command("service", "maintenance: what is due, checklists, records, a day's route"), run);

  command("handover [fleet]", "what changed over a shift, fit to paste into a message")
    .option(
      "--since <time>",
      "since this time, such as 14:30 or 2026-05-04 14:30; default the last that was given, or 12 h",
    )
    .option("--markdown", "as Markdown")
    .option("--given", "it is handed over now, and kept: the next one begins here")
    .addOption(by())
    .addOption(state())
    .action((fleet, options) =>
      run(import("./commands/handover.ts").then((c) => c.handover(fleet, options))),
    );

  command("report <fleet>", "a page for the customer on a period, with plots, from what is kept")
    .requiredOption("--out <file>", "the page of HTML to write")
    .option("--from <time>", "a day in the fleet's zone, or RFC 3339 with offset; default the last month")
    .option("--to <time>", "likewise; a day counts from its midnight")
    .option("--customer <name>", "the units at this customer's sites")
    .option("--site <name>", "the units of this site")
    .option("--unit <id>", "this unit")
    .option("--csv [folder]", "the figures as CSV too: in this folder, else beside the page")
    .addOption(state())
    .action((fleet, options) => run(import("./commands/report.ts").then((c) => c.report(fleet, options))));

  command(
    "completion",
    "prints a script by which a shell completes commands, options and unit ids after `tarnwatch`; in a checkout link bin/tarnwatch into a folder of $PATH first",
  )
    .addArgument(new Argument("<shell>", "which shell").choices(["bash", "zsh", "fish"]))
    .action((shell) => run(import("./commands/completion.ts").then((c) => c.completion(shell, program))));

  command("demo", "the demonstration of `npm start`: an invented fleet, with faults that begin as you watch")
    .option("--speed <n>", "how many times faster time runs", positive, 30)
    .action((options) => run(import("./commands/demo.ts").then((c) => c.demo(options))));
  return program;
}

function notNegative(text: string): number {
  if (text.trim() === "" || !(Number(text) >= 0)) throw new InvalidArgumentError("write a number, 0 or more");
  return Number(text);
}

function share(text: string): number {
  if (!(notNegative(text) <= 1)) throw new InvalidArgumentError("write a share from 0 to 1");
  return Number(text);
}

function whole(text: string): number {
  if (!Number.isInteger(notNegative(text))) throw new InvalidArgumentError("write a whole number");
  return Number(text);
}

function speedValue(text: string): number | "max" {
  if (text === "max") return text;
  if (!(Number(text) > 0) || !Number.isFinite(Number(text))) {
    throw new InvalidArgumentError("write a number above 0, or max");
  }
  return Number(text);
}
