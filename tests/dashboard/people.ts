import type { UnitResponses } from "../../src/assess/response.ts";
import { startResponse } from "../../src/assess/response.ts";
import { setAside } from "../../src/collector/alarm-views.ts";
import type { FleetView, UnitView } from "../../src/collector/fleet-view.ts";
import type { Said } from "../../src/collector/keeping.ts";
import { hearIn } from "../../src/collector/respond.ts";
import { fixtureSource, fleetView, nightMs, unit } from "./fixture.ts";

/** The fleet of the fixture with one more unit at Otter Pool, where a process collects. */
export function keptFleet(over: Partial<FleetView> = {}): FleetView {
  const { units, ...view } = fleetView(14);
  return {
    ...view,
    units: [...units, unit("OP-02", { site: "Otter Pool", alarms: units[6]?.alarms ?? [] })],
    collector: { pid: 1, host: "here", sinceMs: nightMs, kind: "watch" },
    ...over,
  };
}

/** A fleet whose collector takes in what people say, and what was said to it; `meanwhile` comes in before. */
export function peopleSource(first = keptFleet(), meanwhile: (said: Said) => readonly Said[] = () => []) {
  const source = fixtureSource(first);
  const said: Said[] = [];
  const people = new Map(first.units.map(({ id, alarms }) => [id, responsesOf(alarms)]));
  let row = 0;
  const takeIn = (view: FleetView, one: Said): FleetView => ({
    ...view,
    units: view.units.map((each) => {
      const responses = people.get(each.id);
      if (responses === undefined || each.id !== unitOf(one)) return each;
      if (one.kind === "service") return served(each, one);
      hearIn(responses, { ...one.word, row: ++row });
      return answered({ ...each, setAside: setAside(responses) }, responses);
    }),
  });
  const hear = (words: readonly Said[]) => source.show(words.reduce(takeIn, source.current()));
  return {
    ...source,
    said,
    hear,
    say: async (words: readonly Said[]) => {
      hear(words.flatMap(meanwhile));
      said.push(...words);
      hear(words);
      return null;
    },
  };
}

function unitOf(said: Said): string {
  return said.kind === "word" ? said.word.unit : said.record.unit;
}

function responsesOf(alarms: UnitView["alarms"]): UnitResponses {
  return Object.fromEntries(
    alarms.map(({ alarm, raisedMs, priority }) => [alarm, { ...startResponse(), raisedMs, priority }]),
  );
}

function answered(view: UnitView, responses: UnitResponses): UnitView {
  const alarms = view.alarms.map((one) => {
    const acknowledged = responses[one.alarm]?.acknowledged;
    return acknowledged ? { ...one, state: "active-acknowledged" as const, acknowledged } : one;
  });
  return { ...view, alarms };
}

function served(view: UnitView, { record }: Extract<Said, { kind: "service" }>): UnitView {
  const others = (view.begun ?? []).filter(({ work }) => work !== record.work);
  const begins = record.step === "begin" && record.untilMs !== record.atMs + 1;
  return { ...view, begun: begins ? [...others, record] : others };
}
