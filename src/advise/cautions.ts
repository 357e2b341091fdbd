/** The trade's usual cautions. They defer to the maker's manual, local codes and licensed practice. */
export const cautions = {
  unplug:
    "Unplug the unit and keep the plug with you before a hand goes near the pump; no current does not mean safe.",
  restart: "A protector or timer may restart the motor at any moment; never restart it from afar.",
  tripsAgain:
    "A protected outlet that trips again is not held in: keep people out of the water and call a licensed electrician.",
  electrician: "Electrical work is for a licensed electrician; no extension cords.",
  wet: "A wet plug, cord or outlet is not touched, and nobody stands in the water by it: first have the circuit switched off at a dry place.",
  scald:
    "A pump that ran dry may hold scalding water under pressure: let it cool and relieve it before opening.",
  relieve: "Relieve gas and water pressure before anything is opened.",
  ozone:
    "Ozone off first; open the lid from upwind, wait, do not lean in. Smell is no gauge: 0.1 ppm in air is the limit (OSHA 29 CFR 1910.1000, Table Z-1).",
  interlock: "The ozone interlock is hardware and protects people: never bridge it.",
  oxygenFeed:
    "Oxygen, and ozone made from it, feed a fire: no oil, grease or flame near the gas line, and only parts clean of oil for oxygen.",
  vault:
    "A vault or pit is a confined space: ozone and bad air gather there; nobody enters without the test, the permit and the helper that local rules ask for.",
  neverMix:
    "Never mix cleaners: bleach with acid or ammonia least of all, nor peroxide with vinegar. Rinse with water between two of them.",
  gloves: "Gloves and goggles with every cleaner; the maker's data sheet tells what else.",
  rinseWater: "Used cleaner and rinse water go where local rules let them, not into the pond.",
  ice: "Aeration weakens ice: keep everybody off it, and never walk out to the discharge.",
  silence: "Silence is no proof of safety: nothing here watches what is not measured.",
  manual:
    "The maker's manual, local code and licensed trades come first. Alone or at night by water: life jacket, and tell someone. Not in lightning.",
} as const;
