import type { AlarmName } from "../terms/alarms.ts";
import { type Advice, cleanGenerator } from "./advice.ts";
import { cautions } from "./cautions.ts";

/** Water that finds too much or too little in its way after the pump, and a pump that moves less. */
export const dischargeAdvice = {
  "discharge-restricted": {
    damage: "less water and gas reach the pond, and shaft seal and gas feed work against more pressure",
    lessForPond: true,
    likelyCauses: [
      "the fine-bubble generator is fouled by scale, slime or iron",
      "a valve in the discharge line stands partly closed",
      "the discharge hose is kinked, crushed or blocked; in frost, by ice",
    ],
    actions: [
      "Ask somebody on site whether the discharge valve is fully open and the hose free of kinks",
      cleanGenerator,
      "If it comes back within weeks, look at the strainer and at what grows in the line",
      "Record the cleaning, so that the next one is counted from it",
    ],
    cautions: [
      cautions.unplug,
      cautions.relieve,
      cautions.ozone,
      cautions.neverMix,
      cautions.gloves,
      cautions.rinseWater,
    ],
  },
  "discharge-open": {
    damage: "water goes where it should not, washes out the bank, and a radial pump overloads its motor",
    likelyCauses: [
      "a coupling of the discharge line has parted, a hose has burst, a pipe has split",
      "a drain or by-pass valve was left open",
      "the generator has come off its line, or its nozzle is missing",
    ],
    actions: [
      "Ask somebody on site to follow the discharge line and, where it is open, to unplug ozone cell and pump; nobody there: go now",
      "See where the water went: a washed-out bank may give way, and electrical parts may be wet",
      "With the pump unplugged and relieved, renew the parted joint; look why it parted: pressure, age, frost, a blow",
      "Watch pressure and current come back to their baseline before you leave",
    ],
    cautions: [cautions.wet, cautions.unplug, cautions.relieve, cautions.ozone],
  },
  "impeller-fouled": {
    damage: "less water reaches the pond; what is wound round a shaft wears its seal",
    lessForPond: true,
    likelyCauses: [
      "weed, string or film wound round the impeller or caught in its eye",
      "impeller or wear plate worn by sand",
      "the suction screen is torn and lets in what it should keep out",
    ],
    actions: [
      "Ask somebody on site to look at the flow and for a torn suction screen",
      "With the pump unplugged, cooled and relieved, open it and clear the impeller's eye: gloves, its edges are sharp",
      "Compare the clearance of impeller and wear plate with the maker's manual",
      "Refill the casing before it goes back to work; after new parts let a new baseline be taken",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.relieve, cautions.ozone],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
