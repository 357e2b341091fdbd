import { z } from "zod";
import { quantity } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const air = channelIndex.ozone_in_air;

/**
 * Ozone in air that nobody should breathe, ppm: OSHA's permissible exposure (29 CFR 1910.1000, Table Z-1) is 0.1 ppm
 * over a shift, NIOSH recommends the same as a ceiling.
 */
const mostPpm = 0.1;

const settings = z.strictObject({
  /** A ceiling is not to be passed at all: the delay only keeps single readings out. */
  ...common({ delay: "10 s", off_delay: "5 min", priority: "high" }),
  /** May be lowered, never raised: fish houses and visitors want less. */
  limit: quantity("ppm", { above: 0, max: mostPpm }).default(mostPpm),
  /** Clears below this share of the limit. */
  clears_below: z.number().gt(0).max(1).default(0.8),
});

type Settings = z.output<typeof settings>;

/** Ozone in the air about the unit is at or past the limit: the cell, its line or the generator leaks. */
export const ozoneInAir: Rule<Settings, null> = {
  alarm: "ozone-in-air",
  version: 1,
  needs: ["ozone_in_air"],
  needsBaseline: false,
  settings,
  evidence: [{ name: "ozone_in_air", unit: "ppm", against: "limit" }],
  limits: (_unit, _baseline, { limit }) => [{ channel: "ozone_in_air", side: "high", value: limit }],
  start: () => null,
  run(_memory, { value, extremes }, from, to, { limit, clears_below }, met) {
    const ppm = value[air];
    if (extremes[air].greatest < clears_below * limit) {
      met.fill(verdict.no, from, to);
      return;
    }
    for (let row = from; row < to; row++) {
      if (ppm[row] >= limit) met[row] = verdict.met;
      else met[row] = ppm[row] < clears_below * limit ? verdict.no : verdict.hold;
    }
  },
  numbers: ({ value }, row, { limit }) => [value[air][row], limit],
  say([ppm, limit], _unit, { against }) {
    const [now, most] = against("ozone_in_air", ppm, limit);
    return `Ozone in the air was at ${now}, at or past the limit of ${most}.`;
  },
};
