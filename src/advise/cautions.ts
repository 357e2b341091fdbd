/** The trade's usual cautions. They defer to the maker's manual, local codes and licensed practice. */
export const cautions = {
  unplug:
    "Unplug the unit and keep the plug with you before a hand goes near the pump; no current does not mean safe.",
  restart: "A protector or timer may restart the motor at any moment; never restart it from afar.",
  tripsAgain:
    "A protected outlet that trips again is not held in: keep people out of the water and call a licensed electrician.",
  electrician: "Electrical work is for a licensed electrician; no extension cords.",
  scald:
    "A pump that ran dry may hold scalding water under pressure: let it cool and relieve it before opening.",
  ozone:
    "Ozone off first; open the lid from upwind, wait, do not lean in. Smell is no gauge: 0.1 ppm in air is the limit (OSHA 29 CFR 1910.1000, Table Z-1).",
  interlock: "The ozone interlock is hardware and protects people: never bridge it.",
  silence: "Silence is no proof of safety: nothing here watches the unit while readings are missing.",
  manual:
    "The maker's manual, local code and licensed trades come first. Alone at night by water: life jacket, and tell someone.",
} as const;
