import type { Upkeep } from "../../fleet/unit.ts";

/** What a step rests on; undefined: plain care. */
export type Basis = "maker" | "common practice";

export interface Step {
  readonly text: string;
  readonly basis?: Basis;
}

/** What a person does at a unit, in order. It defers to the maker's manual. */
export interface Checklist {
  readonly steps: readonly Step[];
  /** What is taken along for it. */
  readonly load: readonly string[];
  readonly cautions: readonly string[];
}

/** What a checklist may hang on: what is known of a unit, or nothing. */
export type Known = Pick<Upkeep, "cleaner">;

export const step = (text: string): Step => ({ text });
export const usual = (text: string): Step => ({ text, basis: "common practice" });
