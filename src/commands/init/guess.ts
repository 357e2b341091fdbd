import type { ColumnSource } from "../../fleet/unit.ts";
import type { Channel } from "../../terms/channels.ts";

/** One way to take a column, as a fleet file may write it. */
export interface Choice {
  readonly channel: Channel;
  readonly source: ColumnSource;
  /** When this is the right one. */
  readonly when: string;
}

/** What was made of one column of a log. */
export interface Guess {
  readonly header: string;
  /** The channel and how it is read; undefined where it is left to a person, or no channel is for it. */
  readonly placed?: { readonly channel: Channel; readonly source: ColumnSource };
  /** The header says it all in the program's own words, so the fleet file need not. */
  readonly recognised: boolean;
  readonly why: string;
  /** Whether a person should look: more than one thing speaks for another reading. */
  readonly unsure: boolean;
  /** Ways to take it that only a person can decide between, or that nearly fitted. */
  readonly choices: readonly Choice[];
}

export const left = (header: string, why: string, choices: readonly Choice[] = []): Guess => ({
  header,
  recognised: false,
  why,
  unsure: choices.length > 0,
  choices,
});
