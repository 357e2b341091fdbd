import { inventTroubles } from "./invent-troubles.ts";
import { inventUnit } from "./invent-unit.ts";
import type { InventedUnit } from "./invented-unit.ts";
import type { Invention } from "./invention.ts";
import { partSeed } from "./random.ts";

/** Invents a fleet and what befalls it; the same for the same invention. */
export function inventFleet(invention: Invention): readonly InventedUnit[] {
  const ids = Array.from({ length: invention.units }, (_, i) => i);
  const plain = ids.map((i) => inventUnit(i, partSeed(invention.seed, 2 * i)));
  return inventTroubles(plain, invention);
}
