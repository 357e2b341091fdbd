import { visible } from "../../terms/text.ts";
import { table } from "../table.ts";
import type { Guess } from "./guess.ts";

/** A row a guess: a mark where a person should look, header, channel, unit, why. */
export function guessTable(guesses: readonly Guess[]): readonly string[] {
  return table([["", "header", "channel", "unit", "why"], ...guesses.map(rowOf)], 5);
}

function rowOf({ header, placed, why, unsure }: Guess): string[] {
  const vacuum = placed?.source.vacuum === true ? ", vacuum" : "";
  const unit = placed === undefined ? "" : `${placed.source.unit ?? ""}${vacuum}`;
  return [unsure ? "?" : "", visible(header), placed?.channel ?? "–", visible(unit), visible(why)];
}
