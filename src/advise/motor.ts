import type { AlarmName } from "../terms/alarms.ts";
import type { Advice } from "./advice.ts";
import { cautions } from "./cautions.ts";

/** A motor that is too hot, draws too much, does not turn, or does not run when it should. */
export const motorAdvice = {
  overheating: {
    damage: "every 10 °C (18 °F) too hot about halves the life of the winding's insulation (rule of thumb)",
    likelyCauses: [
      "cooling blocked: leaves, nests or a cover on the motor, no air in the enclosure",
      "overload, or a low supply voltage",
      "running dry or against a closed discharge; a failing bearing",
    ],
    actions: [
      "Ask somebody on site whether water moves, and to unplug the unit if it smells hot or heats on; nobody there: go now",
      "Clear the fan cover and the enclosure's air openings",
      "See by discharge pressure and current whether the pump, the supply or the cooling is at fault",
      "Have the supply voltage and the bearing checked before it is put back to work",
    ],
    cautions: [cautions.unplug, cautions.restart, cautions.scald, cautions.electrician],
  },
  overcurrent: {
    damage: "the winding heats past what it bears, until its protector or the breaker opens",
    likelyCauses: [
      "low supply voltage: a long or thin cord, an extension cord, a loaded circuit",
      "a bearing that seizes, or an impeller that rubs or is jammed in part",
      "a radial pump with its discharge line open, a regenerative one with it restricted",
      "a failing run capacitor or winding",
    ],
    actions: [
      "Ask somebody on site to unplug the unit if it hums, smells hot or trips; nobody there: go now",
      "See that it is plugged straight into its outlet, and what else hangs on the circuit",
      "Have an electrician measure the voltage at the outlet while the motor runs",
      "With the pump unplugged and cooled, turn the shaft by hand: it must turn freely",
    ],
    cautions: [cautions.unplug, cautions.restart, cautions.tripsAgain, cautions.electrician],
  },
  "locked-rotor": {
    damage: "a motor that hums and does not turn burns its winding within a minute or so (common practice)",
    likelyCauses: [
      "the impeller is jammed by debris, scale or ice",
      "the start capacitor or its switch has failed",
      "a seized bearing, or a supply voltage too low to turn it",
    ],
    actions: [
      "Ask somebody on site to unplug the unit at once; nobody there: go now",
      "With the pump unplugged and cooled, turn the shaft by hand; if it is jammed, relieve and open the pump and clear it",
      "If it turns freely, have an electrician test the capacitor, its switch and the supply voltage",
      "Leave it unplugged until the cause is found",
    ],
    cautions: [
      cautions.unplug,
      cautions.restart,
      cautions.relieve,
      cautions.tripsAgain,
      cautions.electrician,
    ],
  },
  "not-running": {
    damage: "without circulation oxygen runs low first before dawn in warm weather",
    likelyCauses: [
      "no supply: tripped breaker or ground-fault device, unplugged",
      "the motor's thermal protector has opened, or the motor does not start (capacitor, seized impeller)",
      "timer or controller set otherwise than the schedule here",
    ],
    actions: [
      "Ask somebody on site whether the outlet has power and the plug is in",
      "A device that tripped once may be reset once, by a person on site; if it trips again, leave it off",
      "Listen for a humming motor that does not turn: unplug it at once",
      "Compare the timer with `runs` in the fleet file",
    ],
    cautions: [cautions.restart, cautions.tripsAgain, cautions.wet, cautions.unplug],
  },
  "short-cycling": {
    damage: "every start heats the winding and wears capacitor and switch; while it rests no water moves",
    lessForPond: true,
    likelyCauses: [
      "the motor's thermal protector opens hot and closes cool: minutes on, minutes off",
      "a relay, float, pressure switch or timer that chatters: seconds on, seconds off",
      "a supply that comes and goes: a loose plug, outlet or wire",
    ],
    actions: [
      "Ask somebody on site to unplug the unit if it hums or smells hot, and not to wait beside it for the next start",
      "Minutes on and off: look for what heats the motor, its fan cover, its voltage, its load",
      "Seconds on and off: have the relay, the switch that commands it and the outlet looked at",
      "Compare with the starts an hour that the nameplate or the maker allows",
    ],
    cautions: [cautions.restart, cautions.unplug, cautions.electrician],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
