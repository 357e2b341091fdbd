import type { Checklist } from "../advise/checklists/checklist.ts";
import { checklistOf } from "../advise/checklists/checklists.ts";
import { print } from "./context.ts";
import { loadFleet, unitIn } from "./load-fleet.ts";
import { workNamed } from "./work-meant.ts";
import { wrapped } from "./wrapped.ts";

/** `service checklist`: what is done at a kind of work, in order, with its cautions; for a unit by what its fleet file says. */
export async function checklist(
  workName: string,
  fleetPath: string | undefined,
  unit: string | undefined,
): Promise<number> {
  const work = workNamed(workName);
  const known =
    fleetPath === undefined || unit === undefined
      ? {}
      : unitIn((await loadFleet(fleetPath)).fleet, unit).service;
  const at = unit === undefined ? "" : ` at ${unit}`;
  for (const line of checklistLines(`${work}${at}`, checklistOf(work, known))) print(line);
  return 0;
}

function checklistLines(title: string, { steps, load, cautions }: Checklist): string[] {
  return [
    `Checklist: ${title}`,
    "The maker's manual comes first; where common practice is marked, it may say",
    "otherwise.",
    "",
    "Take along",
    ...load.flatMap((text) => wrapped(text, "  - ")),
    "",
    "Mind",
    ...cautions.flatMap((text) => wrapped(text, "  ! ")),
    "",
    "Do",
    ...steps.flatMap(({ text, basis }) =>
      wrapped(basis === undefined ? text : `${text} (${said[basis]})`, "  [ ] "),
    ),
  ];
}

const said = { maker: "by the fleet file", "common practice": "common practice" } as const;
