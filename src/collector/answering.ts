import type { UnitHistory } from "./fleet-view.ts";
import type { FromWorker, ToWorker } from "./messages.ts";
import type { PastWanted } from "./past.ts";

/** Who knows units' pasts; undefined for an unknown unit. */
export interface PastTeller {
  history(unit: string, wanted: PastWanted): UnitHistory | undefined;
  /** By the logs; undefined also where `isOver` answered true meanwhile. */
  readHistory(unit: string, wanted: PastWanted, isOver: () => boolean): Promise<UnitHistory | undefined>;
}

/**
 * Answers one screen's questions for a unit's past. What is asked of the logs is given up where the same screen asks for
 * another past meanwhile: nobody looks at it any more.
 */
export function startAnswering(
  teller: () => PastTeller,
  reply: (message: FromWorker) => void,
): (message: Extract<ToWorker, { kind: "history" }>) => void {
  let newest = 0;
  return ({ request, unit, fromMs, toMs, points, finely }) => {
    newest = request;
    const wanted = { fromMs, toMs, points };
    const { history, readHistory } = teller();
    const isOver = (): boolean => newest !== request;
    const answer = (found: UnitHistory | undefined): void =>
      reply({ kind: "history", request, history: found, ...(isOver() && { overtaken: true }) });
    const summed = history(unit, wanted);
    if (!finely || summed === undefined) answer(summed);
    // Where the logs cannot be read, what is summed up is all that is known.
    else void readHistory(unit, wanted, isOver).then(answer, () => answer(summed));
  };
}
