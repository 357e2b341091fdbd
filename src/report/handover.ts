import { cameAndWent, isNew } from "./handover-alarms.ts";
import type { HandoverInput } from "./handover-input.ts";
import { outOfService, shelved, wrongNow } from "./handover-now.ts";
import { done, planned, underWay } from "./handover-people.ts";
import { toWatch } from "./handover-watch.ts";

/** A handover in plain words: what is filled in has its control characters made visible. */
export interface Handover {
  /** Nothing came, went, was said or done since. */
  readonly isQuiet: boolean;
  readonly sections: readonly Section[];
}

export interface Section {
  readonly title: string;
  readonly items: readonly string[];
}

/** What changed since a time, and how things stand; sections without an item are left out. */
export function handoverOf(input: HandoverInput): Handover {
  const { view } = input;
  const went = cameAndWent(input);
  const said = done(input);
  const began = input.episodes.some(
    (one) => one.raisedMs !== null && one.priority !== "prompt" && isNew(one, one.raisedMs, input),
  );
  const sections = [
    { title: "Wrong now", items: wrongNow(view) },
    { title: "Came and went", items: went },
    { title: "Said and done", items: said },
    { title: "Shelved", items: shelved(view) },
    { title: "Out of service", items: outOfService(view) },
    { title: "Under service now", items: underWay(view) },
    { title: "Planned stops", items: planned(input) },
    { title: "To watch", items: toWatch(input) },
  ];
  return {
    isQuiet: went.length === 0 && said.length === 0 && !began,
    sections: sections.filter(({ items }) => items.length > 0),
  };
}
