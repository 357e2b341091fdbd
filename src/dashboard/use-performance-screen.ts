import { useEffect, useMemo, useRef, useState } from "react";
import type { FleetView } from "../collector/fleet-view.ts";
import { minute } from "../terms/time.ts";
import type { Command } from "./keys.ts";
import type { Line } from "./line.ts";
import {
  firstPerformancePlace,
  movedInPerformance,
  type PerformancePlace,
  performanceWindows,
} from "./performance-place.ts";
import {
  type PerformanceAnswer,
  performanceHeight,
  performanceRows,
  performanceScreen,
} from "./performance-screen.ts";
import { sheetAsked } from "./sheets/sheet-place.ts";
import type { FleetSource } from "./source.ts";

/** While it is looked at it is read anew so long after each answer. */
const readAgainMs = minute;

const unanswered: PerformanceAnswer = { figures: null, problem: null };

/** The screen of alarm performance: null where it is not looked at; `take` answers whether a command was for it. */
export function usePerformanceScreen(
  source: FleetSource,
  view: FleetView,
  silentMs: number,
  width: number,
  height: number,
): { readonly lines: readonly Line[] | null; readonly take: (command: Command) => boolean } {
  const [place, setPlace] = useState<PerformancePlace | null>(null);
  /** Several keys may come before anything is drawn. */
  const latest = useRef(place);
  const isOpen = place !== null;
  const answer = useAnswer(source, isOpen);
  const window = place?.window ?? 0;
  const { timezone } = view;
  const rows = useMemo(
    () => (isOpen ? performanceRows(answer, window, timezone, width) : []),
    [isOpen, answer, window, timezone, width],
  );
  const go = (to: PerformancePlace | null): true => {
    latest.current = to;
    setPlace(to);
    return true;
  };
  return {
    lines: place === null ? null : performanceScreen(rows, view, place, silentMs, width, height),
    take: (command) => {
      const from = latest.current;
      if (from === null) {
        return command === "performance" && source.performance !== undefined && go(firstPerformancePlace);
      }
      if (command === "round" || sheetAsked(command) !== undefined) {
        go(null);
        return false;
      }
      const to = movedInPerformance(from, command, performanceHeight(view, silentMs, height), rows.length);
      return to !== undefined && go(to);
    },
  };
}

/** The figures of all windows while they are looked at. */
function useAnswer(source: FleetSource, isOpen: boolean): PerformanceAnswer {
  const [answer, setAnswer] = useState(unanswered);
  useEffect(() => {
    if (!isOpen) return;
    let isOver = false;
    let again: NodeJS.Timeout | undefined;
    const ask = async (): Promise<void> => {
      const toMs = source.current().clockMs;
      const fromMs = performanceWindows.map(({ ms }) => toMs - ms);
      const fresh = await read(source, fromMs, toMs, () => isOver);
      if (isOver) return;
      setAnswer(fresh);
      again = setTimeout(ask, readAgainMs);
    };
    void ask();
    return () => {
      isOver = true;
      clearTimeout(again);
    };
  }, [source, isOpen]);
  return answer;
}

async function read(
  source: FleetSource,
  fromMs: readonly number[],
  toMs: number,
  isOver: () => boolean,
): Promise<PerformanceAnswer> {
  try {
    const outcome = await source.performance?.({ fromMs, toMs, isOver });
    return { figures: outcome?.value ?? null, problem: outcome?.problem ?? null };
  } catch (error) {
    return { figures: null, problem: (error as Error).message };
  }
}
