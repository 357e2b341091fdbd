import { visible } from "../../terms/text.ts";
import { works } from "../../terms/works.ts";
import { waitingAt } from "./acknowledge.ts";
import {
  acknowledge,
  note,
  offeredAlarms,
  outOfService,
  returnToService,
  shelve,
  unshelve,
} from "./alarm-actions.ts";
import type { Prepared, Problem, Speaking } from "./prepared.ts";
import { instead } from "./reading.ts";
import { baseline, begin, done, end, plan } from "./service-actions.ts";

/** One thing that can be said, by the name that it has from a shell too. */
export interface Action {
  readonly name: string;
  readonly needs: string;
  readonly does: string;
  readonly prepare: (words: readonly string[], speaking: Speaking) => Prepared | Problem;
  /** What its first word may be, the likeliest first. */
  readonly offers: (speaking: Speaking) => readonly string[];
}

const alarms = ({ unit }: Speaking): readonly string[] => ["all", ...offeredAlarms(unit)];
const waiting = ({ unit }: Speaking): readonly string[] => [
  ...waitingAt([unit]).map(({ alarm }) => alarm.alarm),
  "all",
  "site",
];
const setAside =
  (state: string) =>
  ({ unit }: Speaking): readonly string[] => [
    ...unit.setAside.filter((one) => one.state === state).map(({ alarm }) => alarm),
    "all",
  ];
const kinds = (): readonly string[] => works;
const begun = ({ unit }: Speaking): readonly string[] =>
  works.filter((work) => unit.begun?.some((one) => one.work === work));

export const actions: readonly Action[] = [
  {
    name: "acknowledge",
    needs: "ALARM|all|site [NOTE]",
    does: "somebody has seen it",
    prepare: acknowledge,
    offers: waiting,
  },
  {
    name: "shelve",
    needs: "ALARM|all LENGTH [NOTE]",
    does: "set aside until its end, 7 d at most",
    prepare: shelve,
    offers: alarms,
  },
  {
    name: "unshelve",
    needs: "ALARM|all",
    does: "back from the shelf",
    prepare: unshelve,
    offers: setAside("shelved"),
  },
  {
    name: "out-of-service",
    needs: "ALARM|all [NOTE]",
    does: "set aside until it is returned",
    prepare: outOfService,
    offers: alarms,
  },
  {
    name: "return-to-service",
    needs: "ALARM|all",
    does: "back in service",
    prepare: returnToService,
    offers: setAside("out-of-service"),
  },
  {
    name: "begin",
    needs: "KIND [LENGTH] [NOTE]",
    does: "a service; ends by itself after 8 h",
    prepare: begin,
    offers: kinds,
  },
  {
    name: "end",
    needs: "KIND [NOTE]",
    does: "the service that is begun",
    prepare: end,
    offers: begun,
  },
  {
    name: "done",
    needs: "KIND [TIME] [NOTE]",
    does: "a service that is over, on record",
    prepare: done,
    offers: kinds,
  },
  {
    name: "plan",
    needs: "FROM UNTIL WHY",
    does: "a stop that is meant",
    prepare: plan,
    offers: () => ["now"],
  },
  {
    name: "baseline",
    needs: "confirm|relearn",
    does: "how the unit runs clean",
    prepare: baseline,
    offers: () => ["confirm", "relearn"],
  },
  {
    name: "note",
    needs: "ALARM|all TEXT",
    does: "a remark for others",
    prepare: note,
    offers: alarms,
  },
];

/** The action that a line begins with, once a space says that its name is over. */
export function actionIn(text: string): Action | undefined {
  const [name] = wordsOf(text);
  return /\S\s/.test(text) ? actions.find((action) => action.name === name?.toLowerCase()) : undefined;
}

/** A whole typed line, or what to write instead. */
export function prepare(text: string, speaking: Speaking): Prepared | Problem {
  const [name, ...words] = wordsOf(text);
  if (name === undefined) return { problem: "write what you have to say, or Esc leaves" };
  const action = actions.find((known) => known.name === name.toLowerCase());
  if (action !== undefined) return action.prepare(words, speaking);
  const names = actions.map((known) => known.name);
  return { problem: `'${visible(name)}' is no action${instead(name, names)}` };
}

export function wordsOf(text: string): readonly string[] {
  return text.split(/\s+/).filter((word) => word !== "");
}
