import { createHash } from "node:crypto";
import type { SendLine } from "../fleet/notify.ts";
import type { Delivery, ToldAlarm } from "../store/deliveries.ts";
import { comparePriority } from "../terms/alarms.ts";
import { jsonLine } from "../terms/text.ts";
import { iso } from "../terms/time.ts";
import type { Bundle } from "./bundle.ts";
import { alarmJson, type Content, mostAlarms } from "./content.ts";
import type { Memory } from "./memory.ts";
import type { Plan } from "./plan.ts";
import type { Standing } from "./standing.ts";
import { alarmText, returnText } from "./words.ts";

interface Asked {
  readonly bundle: Bundle;
  readonly line: SendLine;
  readonly step: number;
  readonly way: string;
  readonly now: { readonly memory: Memory; readonly plan: Plan; readonly nowMs: number };
}

/** A message of a bundle's alarms to one way, waiting to be sent. */
export function messageOf({ bundle, line, step, way, now: { memory, plan, nowMs } }: Asked): Delivery {
  const { alarms } = bundle;
  const [{ id, priority, site }] = alarms;
  const rose = alarms.some((alarm) =>
    memory.byAlarm
      .get(alarm.id)
      ?.some((delivery) => delivery.alarms.some((told) => told.id === alarm.id && isLess(told, alarm))),
  );
  const message = [
    id + others(alarms),
    ...(rose ? [priority] : []),
    ...(step > 0 ? [`step-${step}`] : []),
  ].join("/");
  const kind = step === 0 ? "raised" : "escalated";
  const content: Content = {
    type: `alarm.${kind}`,
    timestamp: iso(nowMs),
    id: message,
    fleet: plan.fleet,
    priority,
    site,
    ...alarmText(bundle, { plan, line, step, nowMs }),
    alarms: alarms.slice(0, mostAlarms).map(alarmJson),
    more: [...new Set(alarms.slice(mostAlarms).map(({ unit }) => unit))],
  };
  return waiting(
    { message, way, line: line.name, step, kind, alarms: alarms.map(toldOf), content: jsonLine(content) },
    nowMs,
  );
}

/** What stands for a message that need not be sent: an alarm that this line's ways have been told of. */
export function covering(alarm: Standing, line: SendLine, step: number, nowMs: number): Delivery {
  const { id } = alarm;
  const row = {
    message: `${id}/${alarm.priority}`,
    way: "",
    line: line.name,
    step,
    kind: "raised",
    alarms: [toldOf(alarm)],
    content: "",
  } as const;
  return { ...waiting(row, nowMs), outcome: "covered" };
}

/** A message that alarms are over, to a way that was told of them. */
export function returnMessage(
  gone: readonly (ToldAlarm & { readonly goneMs: number; readonly atMs: number })[],
  way: string,
  plan: Plan,
  nowMs: number,
): Delivery {
  const alarms = gone.toSorted((a, b) => comparePriority(a.priority, b.priority) || (a.id < b.id ? -1 : 1));
  const message = `${alarms[0]?.id ?? ""}${others(alarms)}/returned`;
  const content: Content = {
    type: "alarm.returned",
    timestamp: iso(nowMs),
    id: message,
    fleet: plan.fleet,
    priority: alarms[0]?.priority ?? "low",
    site: null,
    ...returnText(alarms, plan, nowMs),
    alarms: alarms.map(({ id, unit, alarm, priority, goneMs }) => ({
      id,
      unit,
      alarm,
      priority,
      returned: iso(goneMs),
    })),
    more: [],
  };
  return waiting(
    {
      message,
      way,
      line: "",
      step: 0,
      kind: "returned",
      alarms: alarms.map(toldOf),
      content: jsonLine(content),
    },
    nowMs,
  );
}

function waiting(delivery: Omit<Delivery, "madeMs" | "outcome" | "tries" | "atMs">, nowMs: number): Delivery {
  return { ...delivery, madeMs: nowMs, outcome: "waiting", tries: 0, atMs: nowMs };
}

function isLess(a: ToldAlarm, b: ToldAlarm): boolean {
  return comparePriority(a.priority, b.priority) > 0;
}

/** Sets a message of several alarms apart from that of its first alone, and from that of other companions. */
function others(alarms: readonly ToldAlarm[]): string {
  if (alarms.length < 2) return "";
  const all = alarms.map(({ id, priority }) => `${id} ${priority}`).join("\n");
  return `~${alarms.length - 1}-${createHash("sha256").update(all).digest("hex").slice(0, 8)}`;
}

function toldOf({ id, unit, alarm, priority, chattering }: ToldAlarm): ToldAlarm {
  return { id, unit, alarm, priority, ...(chattering && { chattering }) };
}
