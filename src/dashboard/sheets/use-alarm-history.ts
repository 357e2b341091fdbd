import { useEffect, useRef, useState } from "react";
import type { HistoryEntry } from "../../collector/history-page.ts";
import { second } from "../../terms/time.ts";
import { periods } from "../period.ts";
import type { FleetSource } from "../source.ts";
import type { HistoryAnswer, HistoryShown } from "./history-sheet.ts";

const pageRows = 200;
/** The newest page is read anew so long after each answer, while nobody has gone down in it. */
const readAgainMs = 10 * second;

/** What is asked for; null where nobody looks. */
interface Wanted {
  readonly period: number;
  readonly back: number;
  readonly filter: string;
  /** Of a replay, its time to the minute: it may leap. */
  readonly minute: number | null;
}

/** The alarm history of a time, page by page as `wantMore` asks for it. */
export function useAlarmHistory(
  source: FleetSource,
  wanted: Wanted | null,
  goesDown: boolean,
): HistoryShown & { readonly wantMore: () => void } {
  const [kept, setShown] = useState<Kept>({ ...nothing, of: "" });
  const asking = useRef(0);
  const down = useRef(goesDown);
  down.current = goesDown;
  const isOpen = wanted !== null;
  const { period = 0, back = 0, filter = "", minute = null } = wanted ?? {};
  const of = `${period} ${back} ${filter}`;
  /** What is shown until the answer comes says so. */
  const shown: HistoryShown = { ...kept, isReading: kept.of !== of };

  const ask = async (
    until: number,
    before: readonly HistoryEntry[],
    mine: number,
  ): Promise<HistoryAnswer | null> => {
    const { ms } = periods[period] ?? periods[0];
    const sinceMs = until - ms;
    const sites = Object.fromEntries(source.current().units.map(({ id, site }) => [id, site ?? ""]));
    const last = before.at(-1) ?? null;
    const key = last && { timeMs: last.timeMs, unit: last.unit, isWord: last.isWord, n: last.n };
    const range = { sinceMs, untilMs: until };
    try {
      const outcome = await source.alarmHistory?.({ ...range, before: key, rows: pageRows, filter, sites });
      if (mine !== asking.current) return null;
      if (outcome?.problem !== undefined)
        return { ...range, entries: before, more: false, problem: outcome.problem };
      const page = outcome?.value;
      if (outcome !== undefined && page === undefined) return null;
      return {
        ...range,
        entries: [...before, ...(page?.entries ?? [])],
        more: page?.more ?? false,
        problem: null,
      };
    } catch (error) {
      return { ...range, entries: before, more: false, problem: (error as Error).message };
    }
  };

  // biome-ignore lint/correctness/useExhaustiveDependencies: `ask` is made anew with each of these
  useEffect(() => {
    if (!isOpen) return;
    let again: NodeJS.Timeout | undefined;
    let isOver = false;
    const read = async (): Promise<void> => {
      const { ms } = periods[period] ?? periods[0];
      const until = source.current().clockMs - back * ms;
      if (!down.current) {
        const answer = await ask(until, [], ++asking.current);
        if (isOver) return;
        if (answer !== null) setShown({ ...answer, of });
      }
      if (back === 0) again = setTimeout(read, readAgainMs);
    };
    void read();
    return () => {
      isOver = true;
      asking.current++;
      clearTimeout(again);
    };
  }, [source, isOpen, period, back, filter, minute]);

  const isAsking = useRef(false);
  const wantMore = (): void => {
    if (!shown.more || shown.isReading || isAsking.current || shown.entries === null) return;
    isAsking.current = true;
    void ask(shown.untilMs, shown.entries, ++asking.current).then((answer) => {
      isAsking.current = false;
      if (answer !== null) setShown({ ...answer, of });
    });
  };
  return { ...shown, wantMore };
}

/** What is at hand, and of which wish. */
interface Kept extends HistoryAnswer {
  readonly of: string;
}

const nothing: HistoryAnswer = { entries: null, more: false, sinceMs: 0, untilMs: 0, problem: null };
