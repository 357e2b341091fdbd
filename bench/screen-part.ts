/** The writer of the screen's benchmark: a row a second to each log, spread over the second, until it is ended. */
import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { quietIdOf, quietRow } from "./screen-logs.ts";

const [folder = "", units = "0"] = process.argv.slice(2);
const perSlice = 20;
const count = Number(units);
const begunMs = Date.now();
for (let n = 0; ; n += perSlice) {
  const waitMs = begunMs + (n / count) * 1000 - Date.now();
  if (waitMs > 0) await new Promise((resolve) => setTimeout(resolve, waitMs));
  for (let k = n; k < n + perSlice; k++) {
    const noise = Math.sin(k * 12.9898);
    appendFileSync(join(folder, "logs", `${quietIdOf(k % count)}.csv`), quietRow(Date.now(), noise));
  }
}
