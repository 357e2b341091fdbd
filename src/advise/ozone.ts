import type { AlarmName } from "../terms/alarms.ts";
import type { Advice } from "./advice.ts";
import { cautions } from "./cautions.ts";

/** Ozone that is missing, or is where or when it must not be. */
export const ozoneAdvice = {
  "ozone-off": {
    damage: "pumping and gas go on",
    likelyCauses: [
      "the cell's supply or fuse, a loose plug, its own interlock has opened",
      "the cell has reached the end of its life or reports a fault",
      "it was switched off on purpose and not recorded",
    ],
    actions: [
      "Check the cell's supply and fuse, its indicator and the interlock with the pump",
      "If rules or the season forbid ozone here, mark the unit `ozone: bypassed`: every pump and gas rule still applies",
    ],
    cautions: [
      cautions.ozone,
      cautions.unplug,
      cautions.interlock,
      cautions.electrician,
      cautions.oxygenFeed,
    ],
  },
  "ozone-while-stopped": {
    damage: "ozone gathers in the enclosure and attacks hoses and seals; whoever opens the lid breathes it",
    likelyCauses: [
      "the interlock relay between pump and ozone cell is stuck",
      "the cell is wired or plugged past the interlock",
      "the ozone status is misread: compare it with the cell's own indicator",
    ],
    actions: [
      "Ask somebody on site to unplug the ozone cell, from outside the enclosure; nobody there: go now",
      "Warn them not to open the lid and to stay upwind",
      "On site: air the enclosure, then test the interlock before the cell is used again",
    ],
    cautions: [cautions.ozone, cautions.interlock, cautions.vault, cautions.restart],
  },
  "ozone-without-water": {
    damage: "ozone gathers in the line and the enclosure, and whoever opens the lid breathes it",
    likelyCauses: [
      "prime was lost, or a start has not primed, and the interlock goes by the motor and not by the water",
      "the interlock's pressure or flow switch is stuck or set too low",
      "the discharge gauge is dead: compare it with the motor's current",
    ],
    actions: [
      "Ask somebody on site to unplug the ozone cell, then the pump, from outside the enclosure; nobody there: go now",
      "Warn them not to open the lid and to stay upwind",
      "Air the enclosure, restore the prime, then test the interlock before the cell is used again",
    ],
    cautions: [cautions.ozone, cautions.interlock, cautions.unplug, cautions.scald, cautions.vault],
  },
  "ozone-not-allowed": {
    damage: "ozone is fed where rules, season or people forbid it",
    likelyCauses: [
      "the cell was plugged in or switched on after a service",
      "the marking here is out of date: permission was given, or the season has begun",
      "the ozone status is misread: compare it with the cell's own indicator",
    ],
    actions: [
      "Ask somebody on site to unplug the ozone cell alone, from outside the enclosure; nobody there: go now",
      "Ask who switched it on and why; tag the cell's plug",
      "Leave pump and gas at work: without ozone every pump and gas rule still applies",
      "Where ozone is allowed again, on record, write `ozone: fitted` in the fleet file",
    ],
    cautions: [cautions.ozone, cautions.interlock, cautions.oxygenFeed],
  },
  "ozone-in-air": {
    damage: "whoever is near breathes it",
    likelyCauses: [
      "a leak at the cell, the gas line, the injector or the generator",
      "more ozone than the water takes up: too large a dose, or too little water moves",
      "an enclosure without its air openings; a sensor that drifts or answers to another gas",
    ],
    actions: [
      "Warn everybody on site to go upwind and stay away; to unplug the ozone cell only where the air is clear. Nobody there: go now",
      "Go near only with a meter in hand; the lid stays shut until the cell is off",
      "Air the enclosure from upwind and wait until the meter stays below 0.1 ppm",
      "Have the leak found and closed before the cell is used again",
    ],
    cautions: [cautions.ozone, cautions.vault, cautions.interlock, cautions.oxygenFeed],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
