import { wilson } from "../statistics/wilson.ts";
import type { Counted } from "../terms/alarms.ts";
import { day, hour } from "../terms/time.ts";
import { periodMs } from "./floods.ts";
import type { Performance } from "./performance.ts";

/** How a figure stands to the standards'. */
export type Verdict = "within" | "manageable" | "over" | "too few data";

/** From when on a figure is judged: a window so long, or so many announced alarms. */
export type Needs = { readonly spanMs: number } | { readonly alarms: number };

interface Target {
  readonly unit: "alarms" | "share";
  /** Acceptable up to this; with `below` less than this. */
  readonly acceptable: number;
  readonly below?: true;
  readonly manageable?: number;
  readonly needs: Needs;
  /** A single bad moment decides: what is over is so however short the window. */
  readonly momentDecides?: true;
  /** No standard gives it: a house choice. */
  readonly house?: true;
}

/** A figure held against the standards'. */
export interface Held extends Target {
  readonly figure: Judged;
  readonly value: number;
  readonly verdict: Verdict;
}

/** The shares of the priorities held against the standards'. */
export interface HeldPriorities {
  readonly meant: Readonly<Record<Counted, number>>;
  readonly needs: Needs;
  readonly verdict: Verdict;
}

/** The parts of which a share must be told before it can be as small as `target`, and not none. */
const partsFor = (target: number): number => Math.round(1 / target);

const busyShare = 0.01;
const manageableShareOfTen = 0.05;
const eachPeriod: Needs = { spanMs: partsFor(busyShare) * periodMs };
const eachHour: Needs = { spanMs: partsFor(busyShare) * hour };
const aDay: Needs = { spanMs: day };
const none = { unit: "alarms", acceptable: 0, needs: aDay, momentDecides: true } as const satisfies Target;

/**
 * The figures of ANSI/ISA-18.2-2016, IEC 62682:2014 and EEMUA 191 for one operator's place, read in secondary texts.
 * From memory: the most in ten minutes, the hours over thirty, the 1 % of the ten most frequent. What each needs to be
 * judged is a house choice: a mean the round of a day, a share so many parts that it can be told.
 */
const targets = {
  perDay: { unit: "alarms", acceptable: 150, manageable: 300, needs: aDay },
  perHour: { unit: "alarms", acceptable: 6, manageable: 12, needs: aDay },
  perTenMinutes: { unit: "alarms", acceptable: 1, manageable: 2, needs: aDay },
  mostInTenMinutes: { unit: "alarms", acceptable: 10, needs: aDay, momentDecides: true },
  busyPeriods: { unit: "share", acceptable: busyShare, below: true, needs: eachPeriod },
  busyHours: { unit: "share", acceptable: busyShare, below: true, needs: eachHour },
  inFlood: { unit: "share", acceptable: busyShare, below: true, needs: eachPeriod },
  chattering: none,
  repeating: { ...none, house: true },
  fleeting: none,
  mostStaleOnADay: { unit: "alarms", acceptable: 5, below: true, needs: aDay, momentDecides: true },
  mostFrequentShare: {
    unit: "share",
    acceptable: 0.01,
    below: true,
    manageable: manageableShareOfTen,
    // Ten alarms that came once each are more than 5 % of any fewer.
    needs: { alarms: 10 * partsFor(manageableShareOfTen) },
  },
} as const satisfies Readonly<Record<string, Target>>;

export type Judged = keyof typeof targets;

const meant = { high: 0.05, medium: 0.15, low: 0.8 } as const;

/** Five of each priority are to be expected: Cochran's rule for shares that are held against others, from memory. */
const prioritiesNeed: Needs = { alarms: 5 * partsFor(meant.high) };

/** A window's figures held against the standards', in the order in which they are shown. */
export function heldAgainst(figures: Performance): Held[] {
  return (Object.keys(targets) as Judged[]).map((figure) => {
    const target: Target = targets[figure];
    const measured = figures[figure];
    const value = typeof measured === "number" ? measured : measured.length;
    return { figure, value, ...target, verdict: verdictOn(value, target, figures) };
  });
}

function verdictOn(value: number, target: Target, figures: Performance): Verdict {
  const { acceptable, below, manageable, needs, momentDecides } = target;
  const isWell = below ? value < acceptable : value <= acceptable;
  const isManageable = manageable !== undefined && value <= manageable;
  const judged = isWell ? "within" : isManageable ? "manageable" : "over";
  return isEnough(needs, figures) || (momentDecides && judged === "over") ? judged : "too few data";
}

/** Over where more than is meant is high, or more than low, beyond chance (Wilson's interval, 95 %). */
export function heldPriorities(figures: Performance): HeldPriorities {
  const { announced, byPriority: share } = figures;
  const isOver = (part: number, most: number) => wilson(Math.round(part * announced), announced)[0] > most;
  const over = isOver(share.high, meant.high) || isOver(share.high + share.medium, meant.high + meant.medium);
  const judged = over ? "over" : "within";
  return {
    meant,
    needs: prioritiesNeed,
    verdict: isEnough(prioritiesNeed, figures) ? judged : "too few data",
  };
}

function isEnough(needs: Needs, { fromMs, toMs, announced }: Performance): boolean {
  return "spanMs" in needs ? toMs - fromMs >= needs.spanMs : announced >= needs.alarms;
}
