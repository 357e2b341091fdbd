import type { Priority } from "../terms/alarms.ts";

/** What the trade has to say about one alarm. */
export interface Advice {
  /** What gets worse while nobody comes. */
  readonly damage?: string;
  /** Less water or gas reaches the pond while it lasts: fish cannot wait for the next route. */
  readonly lessForPond?: boolean;
  /** How soon, where its priority does not say. */
  readonly within?: Readonly<Partial<Record<Priority, string>>>;
  /** Most likely first. */
  readonly likelyCauses: readonly string[];
  /** First what somebody on site can do now. */
  readonly actions: readonly string[];
  readonly cautions: readonly string[];
}

/** Cleaning a fine-bubble generator, as an action. Common practice; the maker's dose counts. */
export const cleanGenerator =
  "Clean the generator on site: about 25 mL of prepared cleaner, at least 15 min, three rinses until clear (common practice; the maker's dose counts)";
