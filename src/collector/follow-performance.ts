import { visible } from "../terms/text.ts";
import { minute } from "../terms/time.ts";
import { metricWindows } from "./performance-metrics.ts";
import { type PerformanceView, performanceReader } from "./read-performance.ts";

/** Between two looks: the figures are of a day at least. */
const everyMs = 5 * minute;

/** A fleet's figures as they were last read. */
export interface FollowedPerformance {
  /** Of `metricWindows`; none before the first look. */
  current(): readonly (PerformanceView | null)[];
  close(): void;
}

/** Reads the figures of a state folder now and again; `onProblem` hears why that failed, and null once it does not. */
export function followPerformance(
  folder: string,
  onProblem: (problem: string | null) => void,
): FollowedPerformance {
  let figures: readonly (PerformanceView | null)[] = [];
  let closed = false;
  let again: NodeJS.Timeout | undefined;
  const readFigures = performanceReader(folder);
  const look = async (): Promise<void> => {
    const toMs = Date.now();
    const fromMs = metricWindows.map(({ ms }) => toMs - ms);
    const read = await readFigures({ fromMs, toMs, isOver: () => closed }).catch(
      // Whatever it is, collecting does not end for it.
      (error: unknown) => ({ value: undefined, problem: visible((error as Error).message) }),
    );
    if (closed) return;
    onProblem(read.problem ?? null);
    figures = read.value ?? [];
    again = setTimeout(look, everyMs);
  };
  void look();
  return {
    current: () => figures,
    close: () => {
      closed = true;
      clearTimeout(again);
    },
  };
}
