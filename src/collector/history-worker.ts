import { parentPort, workerData } from "node:worker_threads";
import type { Outcome } from "../store/outcome.ts";
import type { Worded } from "./event-words.ts";
import type { HistoryPage, HistoryWanted } from "./history-page.ts";
import { readHistory } from "./read-history.ts";

export interface AskHistory {
  readonly request: number;
  readonly wanted: HistoryWanted;
}

export interface HistoryAnswer {
  readonly request: number;
  readonly outcome: Outcome<HistoryPage | undefined>;
}

const port = parentPort;
if (port === null) throw new Error("the history's worker is started by historyReader");
const { folder, fleet } = workerData as { readonly folder: string; readonly fleet: Worded };
let newest = 0;
port.on("message", async ({ request, wanted }: AskHistory) => {
  newest = request;
  const outcome = await readHistory(folder, wanted, () => newest !== request, fleet);
  const answer: HistoryAnswer = { request, outcome };
  port.postMessage(answer);
});
