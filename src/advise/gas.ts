import type { AlarmName } from "../terms/alarms.ts";
import { type Advice, cleanGenerator } from "./advice.ts";
import { cautions } from "./cautions.ts";

/** The gas feed and its way into the water. */
export const gasAdvice = {
  "gas-pressure-drift": {
    damage: "injector and generator foul until the gas no longer gets through",
    within: { low: "Within the week", prompt: "With the next planned visit before its date" },
    likelyCauses: [
      "the injector or the fine-bubble generator is fouled by scale, slime or iron",
      "the gas line is wet, kinked or its check valve stiff",
      "the feed was set higher and nobody recorded it",
    ],
    actions: [
      "Plan a cleaning before the date that the alarm names, and take the cleaner along",
      "Where the last cleaning did not help, look at the gas line and its check valve first",
      cleanGenerator,
      "Record the cleaning: the trend begins anew from it",
    ],
    cautions: [
      cautions.unplug,
      cautions.ozone,
      cautions.relieve,
      cautions.oxygenFeed,
      cautions.neverMix,
      cautions.gloves,
      cautions.rinseWater,
    ],
  },
  "gas-supply-low": {
    damage: "the pond gets less gas, and nothing but the check valve holds water out of the gas line",
    lessForPond: true,
    likelyCauses: [
      "the compressor, blower or oxygen source has stopped, its filter is clogged or a cylinder is empty",
      "the gas line leaks, has come off or is kinked before the gauge",
      "a regulator or flow valve has been turned down; with gas drawn in, its intake is blocked",
    ],
    actions: [
      "Ask somebody on site whether the gas source runs and what its own gauge and flow meter show",
      "Look at its filter, its setting and the line up to the injector",
      "With the gas off and relieved, seek a leak with a test fluid fit for oxygen",
    ],
    cautions: [cautions.oxygenFeed, cautions.relieve, cautions.ozone, cautions.vault],
  },
  "gas-backflow-risk": {
    damage: "water that runs back reaches the ozone cell and its live parts",
    likelyCauses: [
      "the gas source has stopped while the pump goes on",
      "the gas line leaks or has come off",
      "the discharge is restricted, so that the water stands above what the feed can give",
    ],
    actions: [
      "Ask somebody on site to look for water in the gas line; if there is, unplug ozone cell and pump; nobody there: go now",
      "Look whether the gas source runs, and at the line and its check valve",
      "A cell that water has reached stays unplugged until the maker or a trained person has passed it",
      "Have the check valve tested or renewed: it is the last thing that holds the water back",
    ],
    cautions: [cautions.unplug, cautions.wet, cautions.ozone, cautions.relieve, cautions.oxygenFeed],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
