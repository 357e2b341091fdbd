import { randomUUID } from "node:crypto";
import type { Notify, Way } from "../fleet/notify.ts";
import type { Fleet } from "../fleet/unit.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { day, iso, minute } from "../terms/time.ts";
import type { Content } from "./content.ts";
import { isWithin, waysOf } from "./hours.ts";
import { planOf } from "./plan.ts";
import type { Tried } from "./sending.ts";
import { sendsOf } from "./ways.ts";

/** Sends a message that is plainly a test over every way, all at once; what came of each, in the file's order. */
export function tryWays(
  fleet: Fleet,
  notify: Notify,
  nowMs: number,
): Promise<readonly { way: Way; tried: Tried }[]> {
  return Promise.all(
    sendsOf(notify).map(async ({ way, send }) => {
      const content = testOf(fleet, way, nowMs);
      const tried = send({ message: content.id, json: jsonLine(content), content }).catch(
        (error: Error): Tried => ({ outcome: "failed", detail: visible(error.message) }),
      );
      return { way, tried: await tried };
    }),
  );
}

function testOf({ name: fleet }: Fleet, way: Way, nowMs: number): Content {
  const subject = `TEST from tarnwatch: ${visible(fleet).slice(0, 60)} can reach you by ${visible(way.name).slice(0, 40)}. Nothing is wrong`;
  return {
    type: "test",
    timestamp: iso(nowMs),
    id: `test/${randomUUID()}`,
    fleet,
    priority: null,
    site: null,
    subject,
    text: `${subject}.\n\nThis is a test of the ways by which people are told of alarms. There is nothing to do.`,
    alarms: [],
    more: [],
  };
}

const weekdays = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"];

/** Sites at which a high alarm would be told to nobody some time within the next week, a line each. */
export function gaps(fleet: Fleet, notify: Notify, nowMs: number): readonly string[] {
  const plan = planOf(fleet, notify);
  const startMs = Math.floor(nowMs / (15 * minute)) * 15 * minute;
  return [...plan.unitsAt.keys()].flatMap((site) => {
    const lines = notify.send.filter(
      ({ sites }) => sites === undefined || (site !== null && sites.includes(site)),
    );
    for (let atMs = startMs; atMs < startMs + 7 * day; atMs += 15 * minute) {
      const local = plan.localOf(atMs);
      const reaches = lines.some(
        ({ hours, to }) =>
          (hours === undefined || isWithin(hours, local)) && waysOf(to, notify, "high", local).length > 0,
      );
      if (reaches) continue;
      const when = new Date(local);
      const where = site === null ? "at a unit without a site" : `at ${visible(site)}`;
      return [
        `nobody is told of a high alarm ${where} on ${weekdays[when.getUTCDay()]} at ${when.toISOString().slice(11, 16)}; see sites and hours in notify`,
      ];
    }
    return [];
  });
}
