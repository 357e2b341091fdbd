import { day, hour, minute, second } from "../terms/time.ts";
import type { InventedUnit } from "./invented-unit.ts";
import { endMs, type Invention } from "./invention.ts";
import type { Blemish } from "./log-keeping.ts";
import type { Random } from "./random.ts";
import type { Sag } from "./recorder.ts";

/** What befalls a unit that is well and must raise nothing: visits, planned stops, sags, gaps, late and repeated rows. */
export function usualLife(unit: InventedUnit, invention: Invention, random: Random): InventedUnit {
  const stops = [...unit.stops];
  const services = [...unit.services];
  const sags: Sag[] = [];
  const blemishes: Blemish[] = [];
  const lastMs = endMs(invention);
  const busy = (timeMs: number) =>
    unit.faults.some(
      ({ fromMs, toMs }) => timeMs > fromMs - 2 * hour && timeMs < (toMs ?? lastMs) + 2 * hour,
    );
  for (let dayMs = invention.fromMs; dayMs < lastMs; dayMs += day) {
    const at = (least: number, most: number) => Math.round(dayMs + random.between(least, most));
    const visitMs = at(14 * hour, 20 * hour);
    const visit = random.uniform();
    if (visit < 0.12 && !busy(visitMs)) {
      const work = visit < 0.05 ? "cleaning" : visit < 0.09 ? "inspection" : "planned stop";
      const offMs = Math.round(random.between(12, 45)) * minute;
      services.push({ work, step: "begin", atMs: visitMs - 5 * minute });
      stops.push({ fromMs: visitMs, toMs: visitMs + offMs, cleaned: work === "cleaning" });
      services.push({ work, step: "end", atMs: visitMs + offMs + 10 * minute });
    }
    if (random.uniform() < 0.3) {
      const fromMs = at(0, 24 * hour);
      const lastsMs = random.between(2 * second, 30 * second);
      sags.push({ fromMs, toMs: fromMs + lastsMs, voltageRatio: random.between(0.85, 0.93) });
    }
    blemishes.push(...blemishesOf(at, random, invention.intervalMs));
  }
  services.sort((a, b) => a.atMs - b.atMs);
  return { ...unit, stops, services, sags, blemishes: [...unit.blemishes, ...blemishes] };
}

function blemishesOf(
  at: (least: number, most: number) => number,
  random: Random,
  intervalMs: number,
): Blemish[] {
  const chance = random.uniform();
  const atMs = at(hour, 23 * hour);
  if (chance < 0.1) return [{ kind: "gap", fromMs: atMs, toMs: atMs + 4 * intervalMs }];
  if (chance < 0.15) return [{ kind: "repeated", atMs, rows: 3 }];
  if (chance < 0.2) return [{ kind: "late", atMs, rows: 2, byRows: 2 }];
  if (chance < 0.22) return [{ kind: "garbage", atMs, text: "##,,?" }];
  return [];
}
