import type { Unit } from "../fleet/unit.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import type { Advice } from "./advice.ts";
import { cautions } from "./cautions.ts";
import { dataAdvice } from "./data.ts";
import { dischargeAdvice } from "./discharge.ts";
import { gasAdvice } from "./gas.ts";
import { motorAdvice } from "./motor.ts";
import { ozoneAdvice } from "./ozone.ts";
import { seasonAdvice } from "./season.ts";
import { suctionAdvice } from "./suction.ts";

/** What to do about an alarm, in the order in which a person should read it. */
export interface Guidance extends Pick<Advice, "likelyCauses" | "actions" | "cautions"> {
  /** How soon somebody must act, with the reason. */
  readonly howSoon: string;
  readonly urgency: "now" | "soon" | "next visit";
}

/** Advice for every alarm: an alarm without it does not compile. */
const advice: Readonly<Record<AlarmName, Advice>> = {
  ...suctionAdvice,
  ...dischargeAdvice,
  ...motorAdvice,
  ...gasAdvice,
  ...ozoneAdvice,
  ...dataAdvice,
  ...seasonAdvice,
};

/** Guidance for one alarm at one unit. */
export function guidance(alarm: AlarmName, priority: Priority, unit: Unit): Guidance {
  const told = advice[alarm];
  const when = whenFor(alarm, priority, unit);
  const pressing = priority === "high" || (priority === "medium" && told.lessForPond);
  const because = [told.damage, pressing ? stakes(unit) : undefined].filter((text) => text !== undefined);
  return {
    howSoon: because.length === 0 ? when.words : `${when.words}: ${because.join("; ")}`,
    urgency: when.urgency,
    likelyCauses: told.likelyCauses,
    actions: told.actions,
    cautions: [...told.cautions, cautions.manual],
  };
}

/** What may mean that no water moves at all, and nothing is being damaged at the skid. */
const stops: readonly AlarmName[] = ["not-running", "readings-stale"];

/** A stop waits as long as what depends on the water can; damage and danger that are running do not wait. */
function whenFor(
  alarm: AlarmName,
  priority: Priority,
  { consequence }: Unit,
): { words: string; urgency: Guidance["urgency"] } {
  const { within, lessForPond } = advice[alarm];
  if (priority === "medium") {
    const words = lessForPond && consequence === "fish" ? "Within a day" : "On the next route";
    return { words: within?.medium ?? words, urgency: "soon" };
  }
  if (priority !== "high") {
    return { words: within?.[priority] ?? "When somebody is there anyway", urgency: "next visit" };
  }
  if (stops.includes(alarm) && consequence === "appearance")
    return { words: "Within a day", urgency: "soon" };
  if (stops.includes(alarm) && consequence === "irrigation") return { words: "Today", urgency: "soon" };
  return { words: "Now", urgency: "now" };
}

function stakes(unit: Unit): string | undefined {
  if (unit.consequence === "fish") return "fish depend on this unit";
  if (unit.consequence === "irrigation") return "irrigation draws from this water";
  return undefined;
}
