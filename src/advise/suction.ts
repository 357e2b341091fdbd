import type { AlarmName } from "../terms/alarms.ts";
import type { Advice } from "./advice.ts";
import { cautions } from "./cautions.ts";

const runsDry = "a pump that runs dry ruins its shaft seal within minutes to hours";
const unplugBoth =
  "Ask somebody on site to unplug the ozone cell, then the pump, from outside the enclosure; nobody there: go now";

/** A pump that does not get its water, or gets something else with it. */
export const suctionAdvice = {
  "lost-prime": {
    damage: runsDry,
    likelyCauses: [
      "air drawn in: low pond level, a vortex, a loose union or cap on the suction side",
      "foot or check valve leaking, so that the suction line drains",
      "strainer or suction screen choked until the water column broke",
      "the shaft, the coupling or the impeller has come loose: the motor turns, the pump does not",
    ],
    actions: [
      unplugBoth,
      "Check the pond level and that the suction end is under water",
      "Let it cool, then check the suction unions, the pump's cap and its seal",
      "Clean the strainer and the suction screen, refill the casing, start, and watch it prime within 5 min (common practice)",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.ozone],
  },
  "failed-to-prime": {
    damage: runsDry,
    likelyCauses: [
      "the casing was not full at the start, or has drained through a leaking foot or check valve",
      "air drawn in on the suction side: a loose union or cap, the suction end out of the water",
      "strainer or suction screen choked, suction lift too high for this water level",
    ],
    actions: [
      unplugBoth,
      "Check the pond level and that the suction end is under water",
      "Let it cool, fill the casing, close the cap tightly, then start and watch it prime within 5 min (common practice)",
      "If it does not, look for the air leak; beyond about 6 ft (1.8 m) of lift it wants a check valve (common practice)",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.ozone],
  },
  cavitation: {
    damage: "bubbles of vapour pit the impeller and shake seal and bearings (common practice: within days)",
    likelyCauses: [
      "strainer, suction screen or foot valve partly choked",
      "the pond has fallen: more lift than the pump is made for",
      "warm water, or a suction line too long or too thin: little NPSH to spare",
    ],
    actions: [
      "Ask somebody on site to listen: if it rattles like gravel, unplug the ozone cell, then the pump; nobody there: go now",
      "Check the pond level and that nothing lies over the suction end",
      "With the pump unplugged and relieved, clean strainer, suction screen and foot valve",
      "Compare lift, suction line and water temperature with the NPSH that the pump requires",
      "Never throttle the suction side: it starves the pump further",
    ],
    cautions: [cautions.unplug, cautions.relieve, cautions.ozone],
  },
  "suction-restricted": {
    damage: "it goes on to cavitate or to lose its prime",
    lessForPond: true,
    likelyCauses: [
      "strainer or suction screen clogged with weed, leaves or silt",
      "foot or check valve stuck half open",
      "suction hose kinked, flattened or its lining loose",
      "the water has fallen: then its neighbours on the same water show it too",
    ],
    actions: [
      "Ask somebody on site whether water still comes; if none does, to unplug the ozone cell, then the pump",
      "Check the pond level and what lies over the suction end",
      "With the pump unplugged and relieved, clean the strainer and the suction screen, and see that the foot valve moves freely",
      "Refill the casing before it goes back to work, and see the vacuum come back to its baseline",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.relieve, cautions.ozone, cautions.restart],
  },
  "suction-air": {
    damage: "it goes on to lose its prime",
    lessForPond: true,
    likelyCauses: [
      "a loose union, strainer lid or cap, or a worn O-ring: a leak there draws air in and need not drip",
      "the suction end too near the surface, so that a vortex reaches it",
      "bubbles of the generator reach the suction end",
      "a worn shaft seal that draws air",
    ],
    actions: [
      "Ask somebody on site to look for a vortex over the suction end, and whether the water it stands in has fallen",
      "Set the suction end deeper, and the generator's bubbles further from it",
      "With the pump unplugged and relieved, tighten unions, lid and cap on the suction side and look at their O-rings",
      "If it is still there, have the shaft seal looked at",
    ],
    cautions: [cautions.unplug, cautions.relieve, cautions.restart],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
