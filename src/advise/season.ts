import type { AlarmName } from "../terms/alarms.ts";
import { type Advice, cleanGenerator } from "./advice.ts";
import { cautions } from "./cautions.ts";

/** What the calendar and the weather ask for. */
export const seasonAdvice = {
  "freeze-risk": {
    damage: "water left in casing, lines and gauges bursts them when it freezes",
    within: { medium: "Today, before the frost" },
    likelyCauses: [
      "the unit stands in frost: no power, a tripped device, a stop that was meant",
      "it has not been drained and laid up for the winter",
      "a heater or its supply has failed",
    ],
    actions: [
      "Ask somebody on site to unplug it and to drain casing, lines and gauges by the maker's manual",
      "If it should run, see why it stands: `not-running` says more",
      "Frozen already: leave it unplugged, thaw it slowly with warm air, never with a flame, and look for cracks",
      "Laid up for the winter: write its `season` in the fleet file",
    ],
    cautions: [cautions.unplug, cautions.relieve, cautions.ice, cautions.restart],
  },
  "service-overdue": {
    likelyCauses: [
      "the inspection or cleaning has not been made",
      "it was made and not recorded",
      "the interval here is shorter than this site needs",
    ],
    actions: [
      "Put it on the next route: inspection at least monthly (common practice)",
      cleanGenerator,
      "Clean about monthly, and whenever gas pressure after starting keeps rising (common practice)",
      "Record what was done and when, so that the next one is counted from it",
    ],
    cautions: [
      cautions.unplug,
      cautions.ozone,
      cautions.relieve,
      cautions.oxygenFeed,
      cautions.vault,
      cautions.neverMix,
      cautions.gloves,
      cautions.rinseWater,
      cautions.ice,
    ],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
