import type { Work } from "../../terms/works.ts";
import type { Checklist, Known } from "./checklist.ts";
import { cleaningChecklist } from "./cleaning.ts";
import { layUpChecklist, startUpChecklist } from "./seasons.ts";
import { inspectionChecklist, rePipingChecklist, repairChecklist, swapChecklist } from "./visits.ts";

/** The checklist of each kind of work: one without does not compile. */
const checklists: Readonly<Record<Work, (known: Known) => Checklist>> = {
  inspection: () => inspectionChecklist,
  cleaning: cleaningChecklist,
  repair: () => repairChecklist,
  "re-piping": () => rePipingChecklist,
  "lay-up": () => layUpChecklist,
  "start-up": startUpChecklist,
  swap: () => swapChecklist,
};

/** What is done, in order, at a kind of work; `known` of the unit, where one is named. */
export function checklistOf(work: Work, known: Known = {}): Checklist {
  return checklists[work](known);
}
