import { gaps, tryWays } from "../notify/trial.ts";
import { visible } from "../terms/text.ts";
import { CannotWork, print } from "./context.ts";
import { loadFleet } from "./load-fleet.ts";

export interface NotifyCommandOptions {
  readonly test?: boolean;
}

/** `notify --test`: sends a test message each configured way. 2 where one of them failed. */
export async function notify(fleetPath: string | undefined, options: NotifyCommandOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const configured = fleet.notify;
  if (configured === undefined) {
    throw new CannotWork(
      `${visible(path)}: it has no notify; write the ways to reach people there, such as notify: { ways: { phone: { command: [send-sms, "+15550100"] } } }`,
    );
  }
  if (!options.test) {
    throw new CannotWork(
      "notify: alarms are told by `tarnwatch collect`; write --test to send a test message each way",
    );
  }
  const tried = await tryWays(fleet, configured, Date.now());
  const width = Math.max(...tried.map(({ way }) => visible(way.name).length));
  for (const { way, tried: result } of tried) {
    const word = result.outcome === "delivered" ? "ok    " : "failed";
    const why = result.detail === undefined ? "" : `: ${result.detail}`;
    print(`${word}  ${visible(way.name).padEnd(width)}  ${way.kind}${why}`);
  }
  for (const gap of gaps(fleet, configured, Date.now())) print(`note    ${gap}`);
  return tried.every(({ tried: { outcome } }) => outcome === "delivered") ? 0 : 2;
}
