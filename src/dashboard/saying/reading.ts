import type { FleetView } from "../../collector/fleet-view.ts";
import { meant } from "../../fleet/nearest.ts";
import { parseQuantity } from "../../fleet/quantity.ts";
import { type AlarmName, alarmNames } from "../../terms/alarms.ts";
import { visible } from "../../terms/text.ts";
import { type Work, works } from "../../terms/works.ts";
import { typedTime, typedTimeForms } from "../typed-time.ts";
import type { Problem } from "./prepared.ts";

/** A part of a typed line, and the words after it. */
export type Read<T> = { readonly value: T; readonly rest: readonly string[] } | Problem;

/** An alarm's name, or one of `others`. `example` is a whole line that is right. */
export function readAlarm<T extends string>(
  [word, ...rest]: readonly string[],
  others: readonly T[],
  example: string,
): Read<AlarmName | T> {
  if (word === undefined)
    return { problem: `which alarm? write its name, or ${others.join(" or ")}: ${example}` };
  const known = [...alarmNames, ...others].find((name) => name === word.toLowerCase());
  if (known !== undefined) return { value: known, rest };
  return { problem: `'${visible(word)}' is no alarm${instead(word, [...alarmNames, ...others])}` };
}

/** The word that was plainly meant, or where the words are that may stand here. */
export function instead(word: string, words: readonly string[]): string {
  return meant(word, words) || "; delete it, and the list shows what may stand here";
}

export function readWork([word, ...rest]: readonly string[], example: string): Read<Work> {
  if (word === undefined) return { problem: `which service? choose from the list: write ${example}` };
  const known = works.find((name) => name === word.toLowerCase());
  if (known !== undefined) return { value: known, rest };
  return { problem: `'${visible(word)}' is no kind of service${instead(word, works)}` };
}

const bareNumber = /^\d+(?:\.\d+)?$/;

/** A length of time with its unit, ms: `2h`, `30 min`. Null where the words begin with no number. */
export function readLength([first, second, ...rest]: readonly string[]): Read<number> | null {
  if (first === undefined || !/^\d/.test(first)) return null;
  const apart = bareNumber.test(first);
  const text = apart ? `${first} ${second ?? "?"}` : first;
  const parsed = parseQuantity(text, "ms");
  if ("problem" in parsed || parsed.value <= 0) {
    const example = apart ? `${first} h or ${first} min` : "2h or 30 min";
    return { problem: `'${visible(first)}' is not a length of time; write ${example}` };
  }
  return { value: parsed.value, rest: apart || second === undefined ? rest : [second, ...rest] };
}

/** A time on the fleet's clock, ms: `now`, `14:30`, `2026-05-04 14:30`. Null where the words begin with none. */
export function readTime(
  [first, second, ...rest]: readonly string[],
  { clockMs, timezone }: Pick<FleetView, "clockMs" | "timezone">,
): Read<number> | null {
  if (first === undefined) return null;
  const after = second === undefined ? rest : [second, ...rest];
  if (first.toLowerCase() === "now") return { value: clockMs, rest: after };
  if (!/^\d/.test(first)) return null;
  if (second !== undefined) {
    const dated = typedTime(`${first} ${second}`, clockMs, timezone);
    if (dated !== undefined) return { value: dated, rest };
  }
  const timeMs = typedTime(first, clockMs, timezone);
  if (timeMs !== undefined) return { value: timeMs, rest: after };
  return { problem: `'${visible(first)}' is not a time; write ${typedTimeForms}` };
}

/** What is left of a line, as a remark. */
export function remark(words: readonly string[]): string {
  return words.join(" ");
}
