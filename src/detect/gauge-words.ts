import type { Features } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import type { Spoken } from "../fleet/display.ts";
import { channelIndex } from "../terms/channels.ts";
import { gaugeAt } from "./gauge-deviations.ts";
import type { EvidenceItem } from "./rule.ts";

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const discharge = channelIndex.discharge_pressure;

/** The evidence that every rule of the gauges carries. */
export const gaugeEvidence: readonly EvidenceItem[] = [
  { name: "discharge_pressure", unit: "kPa", against: "baseline" },
  { name: "suction_pressure", unit: "kPa", against: "baseline" },
  { name: "motor_current", unit: "A", against: "baseline" },
  { name: "discharge_unsteadiness", unit: "× clean" },
];

export function gaugeNumbers(features: Features, row: number): readonly number[] {
  const { baseline, unsteady } = features;
  return [
    ...[discharge, suction, current].flatMap((signal) => [
      gaugeAt(features, signal, row),
      centerOf(baseline, signal) ?? Number.NaN,
    ]),
    unsteady[discharge][row],
    Number.NaN,
  ];
}

/** What the gauges read, in words: only those that are measured. */
export function gaugeWords(numbers: readonly number[], { value }: Spoken): string {
  const [p, pClean, s, sClean, a, aClean] = numbers;
  const words = [
    moved("discharge pressure", p, pClean, (x) => value("discharge_pressure", x), "rose", "fell"),
    s > 0 || sClean > 0
      ? moved("the suction pressure", s, sClean, (x) => value("suction_pressure", x), "rose", "fell")
      : moved(
          "the vacuum",
          -s,
          -sClean,
          (x) => value("suction_pressure", -x),
          "grew deeper",
          "grew shallower",
        ),
    moved("the current", a, aClean, (x) => value("motor_current", x), "rose", "fell"),
  ].filter((text) => text !== undefined);
  const text = words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
  return text === "" ? text : text[0].toUpperCase() + text.slice(1);
}

function moved(
  what: string,
  now: number,
  clean: number,
  say: (x: number) => string,
  up: string,
  down: string,
): string | undefined {
  if (Number.isNaN(now) || Number.isNaN(clean)) return undefined;
  const verb = now > clean ? up : down;
  // Where both are said with the same digits nothing has moved that a person could see.
  if (say(now) === say(clean)) return `${what} stayed at ${say(clean)}`;
  return `${what} ${verb} from ${say(clean)} to ${say(now)}`;
}
