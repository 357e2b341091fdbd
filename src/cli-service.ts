import { type Command, Option } from "commander";
import { positive } from "./cli-values.ts";
import { works } from "./terms/works.ts";

const kinds = `Kinds of work: ${works.join(", ")}.`;
const times = "Times: 14:30, 2026-05-04 14:30 (the fleet's zone), or RFC 3339 with offset.";

const state = () => new Option("--state <folder>", "state folder instead of the fleet file's");
const by = () => new Option("--by <name>", "who says it; default the login");
const note = () => new Option("--note <text>", "a remark that is kept with it");
const several = (value: string, all: readonly string[] = []): string[] => [...all, value];

/** The parts of `service`; `run` hears what each comes to. */
export function addServiceCommands(service: Command, run: (status: Promise<number>) => Promise<void>): void {
  const part = (usage: string, description: string) =>
    service.command(usage).description(description).option("--debug", "show where an error comes from");

  service
    .command("due [fleet]", { isDefault: true })
    .description("what is begun, planned and due, by site (also without `due`)")
    .option("--debug", "show where an error comes from")
    .option("--json", "as JSON")
    .addOption(state())
    .action((fleet, options) => run(import("./commands/service-due.ts").then((c) => c.due(fleet, options))));

  for (const [step, args, words] of [
    ["begin", "<work>", "work begins: process alarms are suppressed"],
    ["end", "[work]", "work that was begun has ended; which, where several are begun"],
    ["done", "<work>", "work was done: it ends what was begun of it, or is told afterwards"],
  ] as const) {
    const one = withVisit(part(`${step} <fleet> <unit> ${args}`, words)).addHelpText(
      "after",
      `\n${kinds}\n${times}`,
    );
    one.action((fleet, unit, work, options) =>
      run(import("./commands/service.ts").then((c) => c.record(step, fleet, unit, work, options))),
    );
    if (step === "begin") one.option("--for <time>", "ends by itself after so long; default 8 h");
  }

  withVisit(
    part("swap <fleet> <unit>", "another skid stands there: its serial moves, the place's baseline stays"),
  )
    .requiredOption("--serial <number>", "serial number of the skid that came")
    .addHelpText("after", `\n${times}`)
    .action((fleet, unit, options) =>
      run(import("./commands/service.ts").then((c) => c.swap(fleet, unit, options))),
    );

  part("log [fleet] [unit]", "what was done, by time, and whether each cleaning worked")
    .option("--json", "an object a line")
    .addOption(state())
    .action((fleet, unit, options) =>
      run(import("./commands/service-log.ts").then((c) => c.log(fleet, unit, options))),
    );

  part("checklist <work> [fleet] [unit]", "what is done at a kind of work, in order, with its cautions")
    .addHelpText("after", `\n${kinds}`)
    .action((work, fleet, unit) =>
      run(import("./commands/service-checklist.ts").then((c) => c.checklist(work, fleet, unit))),
    );

  part("route [fleet]", "the visits of a day in the order of least driving, what is wrong now first")
    .option("--from <lat,lon>", "where the day begins and ends, in degrees; default at its first visit")
    .option("--on <day>", "the day, 2026-05-04; default today, or tomorrow where little of it is left")
    .option("--start <time>", "when it begins; default 08:00, or now where that is over")
    .option("--until <time>", "when it is over, back where it began", "17:00")
    .option("--at-unit <time>", "how long a visit of one unit takes", "45 min")
    .option("--within <time>", "with what falls due so long after the day", "3 d")
    .option("--speed <number>", "driving, km/h, or mi/h under display: us; default 50 km/h", positive)
    .option("--road-factor <number>", "road over great-circle distance", positive, 1.3)
    .option("--json", "as JSON")
    .addOption(state())
    .action((fleet, options) =>
      run(import("./commands/service-route.ts").then((c) => c.route(fleet, options))),
    );

  part("plan <fleet> <unit>", "a stop that is meant")
    .requiredOption("--from <time>", "when it begins")
    .requiredOption("--until <time>", "when it is over")
    .requiredOption("--why <text>", "what it is for")
    .addHelpText("after", `\n${times}`)
    .addOption(by())
    .addOption(state())
    .action((fleet, unit, options) =>
      run(import("./commands/service.ts").then((c) => c.plan(fleet, unit, options))),
    );

  part(
    "baseline <fleet> <unit> <answer>",
    "confirms a unit's baseline, or has it learned anew: confirm, relearn",
  )
    .addOption(by())
    .addOption(note())
    .addOption(state())
    .action((fleet, unit, answer, options) =>
      run(import("./commands/service.ts").then((c) => c.baseline(fleet, unit, answer, options))),
    );
}

/** What may be told of a visit. */
function withVisit(command: Command): Command {
  return command
    .addOption(by())
    .addOption(note())
    .option("--at <time>", "when; default now, or when you arrived or left")
    .option("--arrived <time>", "when you came")
    .option("--left <time>", "when you went")
    .option("--oxygen <reading>", "dissolved oxygen by a hand meter, such as '7.5 mg/L'")
    .option("--secchi <reading>", "Secchi depth, such as '1.2 m'")
    .option("--water <reading>", "water temperature, such as '18 degC'")
    .option(
      "--reading <channel=value>",
      "what a gauge shows: motor_current=7.1A; may be given again",
      several,
    )
    .option("--read-at <time>", "when the gauges were read; default --at")
    .option("--ground-fault <result>", "what the device's test button did: tripped, or 'did not trip'")
    .option("--part <text>", "a part that stayed in the skid; may be given again", several)
    .option("--used <text>", "what was used up; may be given again", several)
    .option("--photo <text>", "where a photo lies; may be given again", several)
    .addOption(state());
}
