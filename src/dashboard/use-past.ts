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
import { isOf, pastIn, stepOf } from "./past-window.ts";
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
  useEffect(() => {
    if (unit === null) return;
    let isOver = false;
    const keep = (fresh: Partial<Answers>): void => {
      if (isOver) return;
      const before = latest.current.unit === unit ? latest.current : none;
      latest.current = { ...before, unit, ...fresh };
      setAnswers(latest.current);
    };
    const ask = async (): Promise<void> => {
      const { read } = latest.current.unit === unit ? latest.current : none;
      if (read === null || !goesOn(read, { fromMs, toMs, points })) {
        const summed = await source.history(unit, fromMs, toMs, points);
        keep({ summed });
        if (isOver || !summed.refinable) return;
      }
      const fine = await source.history(unit, fromMs, toMs, points, true);
      keep({ read: fine });
    };
    // A past that cannot be read leaves the charts as they were; the readings above them still tell.
    ask().catch(() => undefined);
    return () => {
      isOver = true;
    };
  }, [source, unit, fromMs, toMs, points]);
  return answers.unit === unit ? answers : none;
}

/** Whether what was read from the logs is nearly all of a window: one that only moved on with the clock. */
function goesOn(read: UnitHistory, { fromMs, toMs, points }: ChartWindow): boolean {
  const step = (toMs - fromMs) / points;
  const shiftMs = toMs - read.toMs;
  return Math.abs(stepOf(read) - step) < 1e-6 * step && shiftMs >= 0 && shiftMs < (toMs - fromMs) / 10;
}
