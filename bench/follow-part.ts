/** The writer of the following benchmark: a row a second to each log, spread over the second. */
import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { followRow, idOf } from "./follow-logs.ts";

const [folder = "", units = "0", seconds = "0"] = process.argv.slice(2);
const perSlice = 20;
const count = Number(units);
const begunMs = Date.now();
for (let n = 0; n < count * Number(seconds); n += perSlice) {
  const dueMs = begunMs + (n / count) * 1000;
  const waitMs = dueMs - Date.now();
  if (waitMs > 0) await new Promise((resolve) => setTimeout(resolve, waitMs));
  for (let k = n; k < n + perSlice; k++) {
    const hot = Math.floor(k / count) % 2 === 0;
    appendFileSync(join(folder, "logs", `${idOf(k % count)}.csv`), followRow(Date.now(), hot));
  }
}
