import type { FleetView } from "../collector/fleet-view.ts";
import { emptyLine, type Line, line, span } from "./line.ts";
import { partlyJudgedMark } from "./partly-judged.ts";
import { paragraph } from "./section.ts";
import { padEnd } from "./width.ts";
import { catchingUpMark, priorityMark, stateMark } from "./words.ts";

const keys = [
  ["arrows up, down", "the unit above, below; on a unit's screen: scroll"],
  ["Page Up, Page Down", "a screenful at a time"],
  ["Home, End", "the first (worst), the last"],
  ["Enter", "open the chosen unit; Esc comes back to where it was opened"],
  ["Esc, Backspace", "back; where only some are shown, all of them first"],
  ["arrows left, right", "on a unit's screen: the unit before, after"],
  ["Tab", "on a unit's screen: the next part"],
  ["+, -", "on a unit's screen: the charts show less, more time (15 min to 90 d)"],
  [", .", "on a unit's screen: earlier, later, by half of what the charts show"],
  [
    "m",
    "on a unit's screen: read every channel off at a mark; arrows left, right move it, m or Esc takes it away",
  ],
  ["n", "on a unit's screen: the charts go on with the clock again"],
  ["1", "the round of units"],
  ["2", "standing alarms, by how soon they must be answered"],
  ["3", "alarm history; + and - choose 8 h to 400 d, left and right when"],
  ["4", "service: what is begun, planned and due"],
  ["5", "data quality: gaps, late and rejected rows, what is not trusted"],
  ["/", "show only what holds the words that you type; Esc shows all"],
  ["o", "order of the round: worst first, by site, by name"],
  ["p", "how the alarms did over 8 h to 30 d, beside the standards' figures; + and - choose"],
  ["y", "on a unit's screen: acknowledge its alarms that are in sight"],
  [
    "w",
    "say something of the chosen unit: a line to be typed, with every action by name: acknowledge, shelve, out-of-service, begin, plan, note …",
  ],
  ["c", "confirms what is asked, and nothing else; any other key leaves it unsaid"],
  ["u", "within a minute: undo what was said last, where that is safe"],
  ["?", "this page"],
  ["Ctrl-L", "draw the screen anew"],
  ["Ctrl-Z", "set tarnwatch aside; the shell's fg brings it back"],
  ["q, Ctrl-C", "quit"],
] as const;

const replayKeys = [
  ["p, space", "play, pause"],
  ["s", "step to the next reading; on a unit's screen: of this unit"],
  ["f, F", "faster, slower"],
  ["a, A", "to the next alarm, the one before; on a unit's screen: of this unit"],
  ["t", "to a time, to be typed"],
  ["b", "play from the beginning"],
] as const;

const marks = [
  [`${priorityMark.high} high`, "now, or as soon as its unit's screen says"],
  [`${priorityMark.medium} medium`, "someone is needed soon"],
  [`${priorityMark.low} low`, "look at it at the next visit"],
  [`${priorityMark.prompt} prompt`, "planned work: cleaning, inspection"],
  [
    `${stateMark.running} running`,
    "the motor runs and has primed; whether water still moves, its alarms say",
  ],
  [`${stateMark.priming} priming`, "the motor runs, the pump is still drawing its water up"],
  [`${stateMark.stopped} stopped`, "the motor has no current"],
  [`${stateMark["under service"]} under service`, "someone works on it, or a stop is planned"],
  [`${stateMark["laid up"]} laid up`, "out of season"],
  [`${stateMark["no readings"]} no readings`, "nothing has come for too long, or ever"],
  [
    `${partlyJudgedMark} running, …`,
    "partly judged: no alarm, but some cannot be judged; over the quiet units stands for what",
  ],
  [
    `${catchingUpMark} catching up`,
    "its logs are still being read: the newest readings are shown, and no alarm has been judged",
  ],
  ["├──━━●━━──┤", "a reading on its scale: ├ ┤ limits, ━ normal band, ● the reading"],
  ["▁ to ▇", "a small trend of the discharge pressure on the same scale, the newest at the right"],
  ["!", "in the view of data quality: cannot be read, or not to be trusted"],
  ["‹ ›", "the reading lies past the end of its scale"],
  ["┃ ┤", "left of a chart: the normal band, a limit"],
  ["▬", "under a chart: while the alarm stood"],
  ["◇─◇", "under a chart: a work from begin to end; ◇ alone: it was done"],
  ["━ · ×", "ozone on, off, in fault"],
] as const;

/** Every key and mark, and what tarnwatch is and is not. */
export function helpLines(view: FleetView, width: number): readonly Line[] {
  const row = ([name, meaning]: readonly [string, string]): readonly Line[] =>
    paragraph(`   ${padEnd(name, 20)} `, meaning, width);
  const plain = (text: string): readonly Line[] => paragraph("   ", text, width);
  return [
    line(" What tarnwatch is", "strong"),
    ...plain(
      "Tarnwatch observes and advises. It stops no pump and no ozone cell. Dry-run cut-out, overload, ground-fault protection and the ozone interlock are hardware at the skid.",
    ),
    ...plain(
      "Silence is no proof of safety. Never restart a pump from afar on the strength of this screen: go and look.",
    ),
    ...(view.replay === undefined
      ? []
      : [
          emptyLine,
          line(" Keys of the replay", "strong"),
          ...replayKeys.flatMap(row),
          ...plain("Recorded logs are played through the rules in log time. Nothing on this screen is now."),
        ]),
    emptyLine,
    line(" Keys", "strong"),
    ...keys.flatMap(row),
    emptyLine,
    line(" Marks", "strong"),
    ...marks.flatMap(row),
    emptyLine,
    line(" Order", "strong"),
    ...plain(
      "Worst first: by how soon someone is needed; what nobody has acknowledged before what someone has; then the newest alarm. Quiet units stand in the order of the fleet file.",
    ),
    ...(view.notices.length === 0
      ? []
      : [emptyLine, line(" Notes on this fleet", "strong"), ...view.notices.flatMap(plain)]),
    emptyLine,
    [span(`   state folder: ${view.stateFolder}`)],
  ];
}
