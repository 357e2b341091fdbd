import { cautions } from "../advise/cautions.ts";
import { minute } from "../terms/time.ts";
import { hoursText } from "./local.ts";
import type { OzoneTime, RunTime } from "./running.ts";

/** Ozone may outlast the motor by a minute at each stop; beyond this over a period it is worth a word (house choice). */
const worthMs = 15 * minute;
/** What the estimates of both may differ by, as a share of the run hours (house choice). */
const estimateShare = 0.02;

/** What is odd about when the ozone was on, against when the motor ran: a sentence each; none where all is well. */
export function ozoneRemarks(ozone: OzoneTime | null, running: RunTime): string[] {
  if (ozone === null) return [];
  const { ms, whileStoodMs, unseenMs } = ozone;
  if (running.by === null) {
    return ms < worthMs
      ? []
      : ["Nothing in the log tells when the motor ran, so nor whether ozone was on without water."];
  }
  const seenMs = ms - unseenMs;
  const beyondMs = seenMs - running.ms;
  const interlock = `Have the interlock tested on site. ${cautions.interlock} ${cautions.ozone}`;
  return [
    ...(whileStoodMs >= worthMs
      ? [
          `Ozone was on for ${hoursText(whileStoodMs)} while the motor stood, which it must not be. ${interlock}`,
        ]
      : beyondMs >= Math.max(worthMs, estimateShare * running.ms)
        ? [
            `Ozone was on for ${hoursText(beyondMs)} longer than the motor ran, as far as can be told. ${interlock}`,
          ]
        : []),
    ...(unseenMs >= worthMs
      ? [`Ozone was on for ${hoursText(unseenMs)} of which nothing tells whether the motor ran.`]
      : []),
  ];
}
