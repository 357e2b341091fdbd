import type { FleetView } from "../collector/fleet-view.ts";
import type { Fleet } from "../fleet/unit.ts";
import { type Delivery, dropDeliveries, loadDeliveries, saveDeliveries } from "../store/deliveries.ts";
import type { Database } from "../store/sqlite.ts";
import { visible } from "../terms/text.ts";
import { age, day } from "../terms/time.ts";
import { type Courier, startCourier, usualWaits, type Waits, type WayStatus } from "./courier.ts";
import { decide } from "./decide.ts";
import { keyOf, type Memory, note, remember, startMemory } from "./memory.ts";
import { planOf } from "./plan.ts";
import { sendsOf } from "./ways.ts";

export interface NotifyStatus {
  readonly ways: readonly WayStatus[];
  /** Why what was sent cannot be recorded; null where it can. */
  readonly problem: string | null;
}

export interface NotifyOptions {
  readonly fleet: Fleet;
  readonly db: Database;
  readonly now: () => number;
  /** Called where a way begins or ends to fail, or recording does. */
  readonly onStatus?: (status: NotifyStatus) => void;
  readonly waits?: Waits;
}

export interface Notifying {
  /** Takes in how the fleet stands and sends what is due. Never throws for a way that fails or a full disk. */
  look(view: FleetView): void;
  status(): NotifyStatus;
  /** Ends: waits a little for what is being sent, and begins nothing more. */
  close(): Promise<void>;
}

/** Deliveries are kept for so long. */
const keptMs = 400 * day;

/** What is being sent at the end has so long to be recorded. */
const closingMs = 5000;

/**
 * Tells people of a fleet's alarms, as its `notify` says; without one, nothing. A message is stored before it is
 * sent and again once it was taken. Where the disk refuses that, this process still remembers it.
 */
export function startNotifying({ fleet, db, now, onStatus, waits = usualWaits }: NotifyOptions): Notifying {
  const { notify } = fleet;
  if (notify === undefined) {
    return { look: () => {}, status: () => ({ ways: [], problem: null }), close: async () => {} };
  }
  const plan = planOf(fleet, notify);
  const ways = new Set(notify.ways.map(({ name }) => name));
  let problem: string | null = null;
  const memory = recall();
  const unsaved = new Map<string, Delivery>();
  let told = "";
  let isClosed = false;

  const couriers = new Map<string, Courier>(
    sendsOf(notify).map(({ way: { name: way }, send }) => [
      way,
      startCourier({
        way,
        send,
        now,
        waits,
        onTried: (delivery) => {
          take([delivery.outcome === "waiting" ? delivery : { ...delivery, content: "" }]);
          save();
          tellStatus();
        },
      }),
    ]),
  );

  function recall(): Memory {
    const nowMs = now();
    dropDeliveries(db, nowMs - keptMs);
    const kept = loadDeliveries(db);
    problem = kept.problem ?? null;
    // What waits for a way that is gone is decided anew.
    const known = (kept.value ?? []).map((delivery) =>
      delivery.outcome === "waiting" && !ways.has(delivery.way)
        ? ({ ...delivery, outcome: "withdrawn" } as const)
        : delivery,
    );
    return startMemory(known, nowMs);
  }

  function take(deliveries: readonly Delivery[]): void {
    for (const delivery of deliveries) {
      remember(memory, delivery);
      unsaved.set(keyOf(delivery), delivery);
    }
  }

  function save(): void {
    if (unsaved.size === 0 || !db.isOpen) return;
    const saved = saveDeliveries(db, [...unsaved.values()]);
    problem = saved.problem ?? null;
    if (saved.problem === undefined) unsaved.clear();
  }

  function status(): NotifyStatus {
    return { ways: [...couriers.values()].map((courier) => courier.status()), problem };
  }

  function tellStatus(): void {
    const now = status();
    const key = JSON.stringify([now.problem, now.ways.map(({ failing }) => failing)]);
    if (key === told) return;
    told = key;
    onStatus?.(now);
  }

  return {
    look: (view) => {
      if (isClosed) return;
      const decision = decide(memory, view, plan, now());
      note(memory, decision);
      take(decision.made);
      take(decision.withdrawn.map((delivery) => ({ ...delivery, content: "" })));
      save();
      for (const delivery of decision.withdrawn) couriers.get(delivery.way)?.drop(delivery);
      for (const delivery of [...decision.made, ...decision.due]) {
        if (delivery.outcome === "waiting") couriers.get(delivery.way)?.offer(delivery);
      }
      tellStatus();
    },
    status,
    close: async () => {
      isClosed = true;
      let timer: NodeJS.Timeout | undefined;
      const enough = new Promise<void>((resolve) => {
        timer = setTimeout(resolve, closingMs);
      });
      await Promise.race([Promise.all([...couriers.values()].map((courier) => courier.close())), enough]);
      clearTimeout(timer);
      save();
    },
  };
}

/** What a person at a screen should know of it, in one line each. */
export function statusNotices({ ways, problem }: NotifyStatus, nowMs: number): readonly string[] {
  return [
    ...(problem === null ? [] : [`what was told to whom cannot be recorded: ${problem}`]),
    ...ways.flatMap(({ way, waiting, failing }) => {
      if (failing === null) return [];
      const waits = waiting === 0 ? "" : `, ${waiting} waiting`;
      return [`messages by ${visible(way)} fail for ${age(nowMs - failing.sinceMs)}${waits}: ${failing.why}`];
    }),
  ];
}
