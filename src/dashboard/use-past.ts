import { useEffect, useMemo, useRef, useState } from "react";
import type { UnitHistory } from "../collector/fleet-view.ts";
import {
  type ChartPlace,
  type ChartWindow,
  firstChartPlace,
  movedInCharts,
  windowOf,
} from "./chart-place.ts";
import type { Command } from "./keys.ts";
import { isOf, pastIn } from "./past-window.ts";
import type { FleetSource } from "./source.ts";

/** What the charts show of a unit's past. */
export interface PastShown {
  readonly place: ChartPlace;
  readonly window: ChartWindow;
  /** As far as it is known, over the window; null until the first answer. */
  readonly history: UnitHistory | null;
  /** It is that of this very window; else what was known before, until the answer comes. */
  readonly isCurrent: boolean;
}

interface Answers {
  readonly unit: string | null;
  readonly summed: UnitHistory | null;
  readonly read: UnitHistory | null;
}

const none: Answers = { unit: null, summed: null, read: null };

/** The past of the chosen unit (null: none) in `points` points over `columns` columns; `take` answers whether a command was for it. */
export function usePast(
  source: FleetSource,
  unit: string | null,
  clockMs: number,
  points: number,
  columns: number,
): { readonly past: PastShown; readonly take: (command: Command) => boolean } {
  const [place, setPlace] = useState(firstChartPlace);
  /** Several keys may come before anything is drawn. */
  const latest = useRef(place);
  const window = useMemo(() => windowOf(place, clockMs, points), [place, clockMs, points]);
  const { fromMs, toMs } = window;
  const { summed, read } = useAnswers(source, unit, fromMs, toMs, points);
  const past = useMemo((): PastShown => {
    const within = { fromMs, toMs, points };
    const isCurrent = [summed, read].some((one) => one !== null && isOf(one, within));
    return { place, window: within, history: pastIn(summed, read, within), isCurrent };
  }, [place, fromMs, toMs, points, summed, read]);
  return {
    past,
    take: (command) => {
      if (unit === null) return false;
      const around = {
        clockMs,
        window: windowOf(latest.current, clockMs, points),
        columns,
        knownFromMs: past.history?.knownFromMs ?? null,
      };
      const to = movedInCharts(latest.current, command, around);
      // Whoever leaves the unit finds the newest when coming back.
      const left = to === undefined && command === "back" ? { ...latest.current, endMs: null } : to;
      if (left !== undefined) {
        latest.current = left;
        setPlace(left);
      }
      return to !== undefined;
    },
  };
}

/** The newest answers for the unit: by what is summed up at once, then by its logs where they may tell more. */
function useAnswers(
  source: FleetSource,
  unit: string | null,
  fromMs: number,
  toMs: number,
  points: number,
): Answers {
  const [answers, setAnswers] = useState(none);
  const latest = useRef(answers);
  const wantedUnit = useRef(unit);
  const asking = useRef<Asking | null>(null);
  useEffect(() => {
    wantedUnit.current = unit;
    if (unit === null) return;
    const window = { fromMs, toMs, points };
    let isOver = false;
    // An answer of another time is of use, too, until there is a better one.
    const keep = (fresh: Partial<Answers>): void => {
      if (wantedUnit.current !== unit) return;
      const before = latest.current.unit === unit ? latest.current : none;
      latest.current = { ...before, unit, ...fresh };
      setAnswers(latest.current);
    };
    const ask = async (): Promise<void> => {
      if (isOver) return;
      const { read } = latest.current.unit === unit ? latest.current : none;
      if (read === null || !goesOn(windowIn(read), window)) {
        const summed = await source.history(unit, fromMs, toMs, points);
        keep({ summed });
        if (isOver || !summed.refinable) return;
      }
      keep({ read: await source.history(unit, fromMs, toMs, points, true) });
    };
    const before = asking.current;
    // Time that only goes on waits its turn: where it runs fast, each question would else put an end to the one before.
    const waits = before?.unit === unit && goesOn(before.window, window);
    const done = (waits ? before.done : Promise.resolve()).then(ask).catch(() => undefined);
    // A past that cannot be read leaves the charts as they were; the readings above them still tell.
    asking.current = { unit, window, done };
    return () => {
      isOver = true;
    };
  }, [source, unit, fromMs, toMs, points]);
  return answers.unit === unit ? answers : none;
}

/** A question that may not be answered yet. */
interface Asking {
  readonly unit: string;
  readonly window: ChartWindow;
  readonly done: Promise<void>;
}

function windowIn({ fromMs, toMs, timeMs }: UnitHistory): ChartWindow {
  return { fromMs, toMs, points: timeMs.length };
}

/** Whether a window is nearly all of a later one, which only moved on with the clock. */
function goesOn(before: ChartWindow, { fromMs, toMs, points }: ChartWindow): boolean {
  const sameReach = Math.abs(before.toMs - before.fromMs - (toMs - fromMs)) < 1;
  const shiftMs = toMs - before.toMs;
  return sameReach && before.points === points && shiftMs >= 0 && shiftMs < (toMs - fromMs) / 10;
}
