import type { Delivery } from "../store/deliveries.ts";

/** What is known of messages, past and waiting, and since when alarms have been seen. */
export interface Memory {
  /** By message, way and line. */
  readonly deliveries: Map<string, Delivery>;
  /** The deliveries that told of an alarm, by its id. */
  readonly byAlarm: Map<string, Delivery[]>;
  /** Alarms that a message told of and whose return is still to come. */
  readonly open: Set<string>;
  /** When this process saw an alarm first, or first saw it gone, by id. */
  readonly seenMs: Map<string, number>;
  readonly goneMs: Map<string, number>;
  /** Units whose alarms this process has seen since all logs were read. */
  readonly units: Set<string>;
}

/** A return is told of an alarm that this process saw, or that was told at most so long before it began. */
const recentMs = 24 * 3_600_000;

/**
 * The memory that a process begins with. What was refused before is tried once more: somebody may have mended
 * the way since.
 */
export function startMemory(kept: readonly Delivery[], nowMs: number): Memory {
  const memory: Memory = {
    deliveries: new Map(),
    byAlarm: new Map(),
    open: new Set(),
    seenMs: new Map(),
    goneMs: new Map(),
    units: new Set(),
  };
  for (const delivery of kept) {
    const again = delivery.outcome === "refused" && delivery.kind !== "returned";
    remember(memory, again ? { ...delivery, outcome: "waiting" } : delivery);
    if (delivery.madeMs <= nowMs - recentMs) for (const { id } of delivery.alarms) memory.open.delete(id);
  }
  return memory;
}

export function keyOf({ message, way, line }: Pick<Delivery, "message" | "way" | "line">): string {
  return `${message}\n${way}\n${line}`;
}

/** Takes in a delivery, new or as it stands now. */
export function remember(memory: Memory, delivery: Delivery): void {
  const key = keyOf(delivery);
  memory.deliveries.set(key, delivery);
  for (const { id } of delivery.alarms) {
    const others = (memory.byAlarm.get(id) ?? []).filter((other) => keyOf(other) !== key);
    memory.byAlarm.set(id, [...others, delivery]);
    if (delivery.kind === "returned") memory.open.delete(id);
    else memory.open.add(id);
  }
}

/** What a look at the fleet found, to be remembered until the next. */
export interface Noted {
  /** Alarms that are still active, whatever people have done about them. */
  readonly active: readonly string[];
  /** Since when alarms have been seen, or seen gone, by id. */
  readonly seenMs: ReadonlyMap<string, number>;
  readonly goneMs: ReadonlyMap<string, number>;
  /** Alarms whose return is settled without a word. */
  readonly closed: readonly string[];
  readonly units: readonly string[];
}

/** Takes in what a look found. */
export function note(memory: Memory, { active, seenMs, goneMs, closed, units }: Noted): void {
  for (const id of active) if (memory.byAlarm.has(id)) memory.open.add(id);
  memory.seenMs.clear();
  for (const [id, atMs] of seenMs) memory.seenMs.set(id, atMs);
  memory.goneMs.clear();
  for (const [id, atMs] of goneMs) memory.goneMs.set(id, atMs);
  for (const id of closed) memory.open.delete(id);
  for (const unit of units) memory.units.add(unit);
}
