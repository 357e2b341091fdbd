import type { Unit } from "../fleet/unit.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import { cautions } from "./cautions.ts";

/** What to do about an alarm, in the order in which a person should read it. */
export interface Guidance {
  /** How soon somebody must act, with the reason. */
  readonly howSoon: string;
  readonly urgency: "now" | "soon" | "next visit";
  /** Most likely first. */
  readonly likelyCauses: readonly string[];
  /** First what somebody on site can do now. */
  readonly actions: readonly string[];
  readonly cautions: readonly string[];
}

interface Advice {
  readonly damage?: string;
  readonly likelyCauses: readonly string[];
  readonly actions: readonly string[];
  readonly cautions: readonly string[];
}

const advice: Readonly<Partial<Record<AlarmName, Advice>>> = {
  "lost-prime": {
    damage: "a pump that runs dry ruins its shaft seal within minutes to hours",
    likelyCauses: [
      "air drawn in: low pond level, a vortex, a loose union or cap on the suction side",
      "foot or check valve leaking, so that the suction line drains",
      "strainer or suction screen choked until the water column broke",
    ],
    actions: [
      "Ask somebody on site to unplug the ozone cell, then the pump, from outside the enclosure; nobody there: go now",
      "Check the pond level and that the suction end is under water",
      "Let it cool, then check the suction unions, the pump's cap and its seal",
      "Clean the strainer and the suction screen, refill the casing, start, and watch it prime within 5 min (common practice)",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.ozone],
  },
  "failed-to-prime": {
    damage: "a pump that runs dry ruins its shaft seal within minutes to hours",
    likelyCauses: [
      "the casing was not full at the start, or has drained through a leaking foot or check valve",
      "air drawn in on the suction side: a loose union or cap, the suction end out of the water",
      "strainer or suction screen choked, suction lift too high for this water level",
    ],
    actions: [
      "Ask somebody on site to unplug the ozone cell, then the pump, from outside the enclosure; nobody there: go now",
      "Check the pond level and that the suction end is under water",
      "Let it cool, fill the casing, close the cap tightly, then start and watch it prime within 5 min (common practice)",
      "If it does not, look for the air leak; beyond about 6 ft of lift it wants a check valve (common practice)",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.ozone],
  },
  overheating: {
    damage: "every 10 °C (18 °F) too hot about halves the life of the winding's insulation (rule of thumb)",
    likelyCauses: [
      "cooling blocked: leaves, nests or a cover on the motor, no air in the enclosure",
      "overload, or a low supply voltage",
      "running dry or against a closed discharge; a failing bearing",
    ],
    actions: [
      "See by discharge pressure and current whether water moves",
      "Ask somebody on site to unplug the unit if it still climbs",
      "Clear the fan cover and the enclosure's air openings",
      "Have the supply voltage and the bearing checked before it is put back to work",
    ],
    cautions: [cautions.unplug, cautions.scald, cautions.electrician],
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
    cautions: [cautions.restart, cautions.tripsAgain, cautions.unplug],
  },
  "ozone-off": {
    damage: "pumping and gas go on",
    likelyCauses: [
      "the cell's supply or fuse, a loose plug, its own interlock has opened",
      "the cell has reached the end of its life or reports a fault",
      "it was switched off on purpose and not recorded",
    ],
    actions: [
      "Check the cell's supply and fuse, its indicator and the interlock with the pump",
      "If rules or the season forbid ozone here, mark the unit `ozone: bypassed`",
    ],
    cautions: [cautions.ozone, cautions.unplug],
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
    cautions: [cautions.ozone, cautions.interlock],
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
    cautions: [cautions.ozone, cautions.interlock, cautions.unplug],
  },
  "readings-stale": {
    likelyCauses: [
      "the logger, its supply or its link has stopped",
      "the delivery of log files is late or blocked",
      "no power at the site",
    ],
    actions: [
      "See whether other units of the same site are silent too: then look at power or the link",
      "Check when the log file last grew and whether the disk is full",
      "Treat the pump's state as unknown until readings come again",
    ],
    cautions: [cautions.silence],
  },
};

/** Guidance for one alarm at one unit. */
export function guidance(alarm: AlarmName, priority: Priority, unit: Unit): Guidance {
  const {
    damage,
    likelyCauses,
    actions,
    cautions: told,
  } = advice[alarm] ?? {
    likelyCauses: [],
    actions: ["See the maker's manual"],
    cautions: [],
  };
  const when = whenFor(alarm, priority, unit);
  const because = [damage, priority === "high" ? stakes(unit) : undefined].filter(
    (text) => text !== undefined,
  );
  return {
    howSoon: because.length === 0 ? when.words : `${when.words}: ${because.join("; ")}`,
    urgency: when.urgency,
    likelyCauses,
    actions,
    cautions: [...told, cautions.manual],
  };
}

/** A stop waits as long as what depends on the water can; damage and danger that are running do not wait. */
function whenFor(
  alarm: AlarmName,
  priority: Priority,
  { consequence }: Unit,
): { words: string; urgency: Guidance["urgency"] } {
  if (priority === "medium") return { words: "On the next route", urgency: "soon" };
  if (priority !== "high") return { words: "When somebody is there anyway", urgency: "next visit" };
  if (alarm === "not-running" && consequence === "appearance")
    return { words: "Within a day", urgency: "soon" };
  if (alarm === "not-running" && consequence === "irrigation") return { words: "Today", urgency: "soon" };
  return { words: "Now", urgency: "now" };
}

function stakes(unit: Unit): string | undefined {
  if (unit.consequence === "fish") return "fish depend on this unit";
  if (unit.consequence === "irrigation") return "irrigation draws from this water";
  return undefined;
}
