import { bareFleet } from "../../acquire/bare-unit.ts";
import { type LayoutColumn, layoutOf } from "../../acquire/dialect.ts";
import type { LogSample } from "../../acquire/sample.ts";
import type { Channel } from "../../terms/channels.ts";
import { type ColumnValues, columnValues, type Likeness, likenessOf } from "./column-values.ts";
import { type Guess, left } from "./guess.ts";
import { guessUnit, short } from "./guess-unit.ts";
import { type HeaderUnit, isAmerican, kindByUnit, unitIn } from "./header-unit.ts";
import { channelAt, type Kind, type Said, saidBy } from "./header-words.ts";
import { onePlaceEach } from "./one-place-each.ts";
import { isPlacedSuction, placeSuction } from "./suction.ts";
import { placeUnqualified, type Unqualified } from "./unqualified.ts";

/** The motor runs from this part of its largest current up, as the program itself takes it where nothing is known. */
const runningPart = 0.2;

interface Column {
  readonly values: ColumnValues;
  readonly said: Said;
  readonly kind?: Kind;
  readonly unit: HeaderUnit;
}

function columnOf(values: ColumnValues): Column {
  const said = saidBy(values.header);
  const byUnit = kindByUnit(values.header);
  const kind = said.named ? said.kind : (byUnit ?? said.kind);
  return { values, said, kind, unit: kind === undefined ? { is: "unsaid" } : unitIn(values.header, kind) };
}

/** Columns whose headers are the program's own, by their place in the row. */
function recognisedIn({ cells, delimiter, time }: LogSample): ReadonlyMap<number, LayoutColumn> {
  const { unit } = bareFleet("log", "/");
  const layout = layoutOf(cells, delimiter, {
    ...unit,
    columns: {
      time: cells[time.index],
      date: time.date === undefined ? undefined : cells[time.date],
      channels: {},
    },
  });
  const columns = typeof layout === "string" ? [] : layout.columns;
  const tellsUnit = ({ kind, header, channel }: LayoutColumn) =>
    kind !== "number" || header.trim().toLowerCase() !== channel;
  return new Map(columns.filter(tellsUnit).map((column) => [column.index, column]));
}

/** Numbers of the rows in which the motor runs; all where no current tells. */
function whileRunning(columns: readonly Column[]): (numbers: readonly number[]) => readonly number[] {
  const current = columns.find(
    ({ kind, said, values }) => kind === "current" && !said.other && values.isNumber,
  );
  const like = current === undefined ? undefined : likenessOf(current.values.numbers);
  if (current === undefined || like === undefined || like.high <= 0) return (numbers) => numbers;
  const runs = current.values.numbers.map((amps) => amps > runningPart * like.high);
  return (numbers) => numbers.filter((_, row) => runs[row]);
}

const statusChannels: readonly Channel[] = ["ozone", "run_command"];

/** Where a column that is a state belongs. */
function guessStatus(channel: Channel, { values, unit }: Column): Guess {
  const { header } = values;
  if (values.isStatus) {
    return {
      header,
      placed: { channel, source: { column: header } },
      recognised: false,
      why: "its cells are states",
      unsure: false,
      choices: [],
    };
  }
  const inAir = channel === "ozone" && unit.is === "unit";
  if (inAir && values.isNumber) {
    const placed = { channel: "ozone_in_air", source: { column: header, unit: unit.unit } } as const;
    return {
      header,
      placed,
      recognised: false,
      why: `${unit.unit} by its header`,
      unsure: false,
      choices: [],
    };
  }
  return left(header, "its cells are neither on nor off");
}

/** A signal of a loop: what its ends stand for, nobody can see in it. */
function guessLoop(channel: Channel, header: string): Guess {
  const source = { column: header, unit: "mA", range: [4, 20] } as const;
  return left(header, "a 4–20 mA signal: its scale is not in the log", [
    { channel, source, when: "write what 4 and 20 mA stand for" },
  ]);
}

function guessNumber(channel: Channel, column: Column, like: Likeness, american: boolean): Guess {
  const { values, unit: said } = column;
  const { header } = values;
  // A motor on an outlet draws no few mA: those are the signal of a transducer.
  const loop = said.is === "loop" || (said.is === "unit" && /^ma$/i.test(said.unit) && like.largest <= 21);
  if (loop) return guessLoop(channel, header);
  if (said.is === "unknown") return left(header, `'${said.unit}' is no unit that ${channel} is read in`);
  const { unit, why, unsure, others } = guessUnit(channel, said, like.largest, american);
  const choices = others.map((other) => ({
    channel,
    source: { column: header, unit: other },
    when: `if it is ${other}`,
  }));
  return {
    header,
    placed: { channel, source: { column: header, unit } },
    recognised: false,
    why,
    unsure,
    choices,
  };
}

function columnsOf(samples: readonly LogSample[]): readonly Column[] {
  const [first] = samples;
  if (first === undefined) return [];
  return first.cells.flatMap((header, index) =>
    index === first.time.index || index === first.time.date || header === ""
      ? []
      : [columnOf(columnValues(samples, index))],
  );
}

/** What to make of each column of a unit's logs, but for that of the times. */
export function guessColumns(samples: readonly LogSample[]): readonly Guess[] {
  return ofUnit(guessShared(samples), samples);
}

/**
 * What is left to decide at each unit of those with one header: with which sign its suction is written. `own` are its own
 * logs.
 */
export function ofUnit(guesses: readonly Guess[], own: readonly LogSample[]): readonly Guess[] {
  if (!guesses.some(isPlacedSuction)) return onePlaceEach(guesses);
  const columns = columnsOf(own);
  const running = whileRunning(columns);
  const signed = guesses.map((guess) => {
    const column = columns.find(({ values }) => values.header === guess.header);
    if (column === undefined || !isPlacedSuction(guess)) return guess;
    const { values, said } = column;
    const like = likenessOf(running(values.numbers)) ?? likenessOf(values.numbers);
    return like === undefined ? guess : placeSuction(guess, said, like);
  });
  return onePlaceEach(signed);
}

/** What units with one header have alike: all but the sign of a suction, which is placed as it is written. */
export function guessShared(samples: readonly LogSample[]): readonly Guess[] {
  const [first] = samples;
  if (first === undefined) return [];
  const recognised = recognisedIn(first);
  const columns = columnsOf(samples);
  const running = whileRunning(columns);
  const american = columns.some(({ unit }) => unit.is === "unit" && isAmerican(unit.unit));
  const unqualified: Unqualified[] = [];
  const guesses = columns.flatMap((column): readonly Guess[] => {
    const { values, said, kind } = column;
    const { header } = values;
    const known = recognised.get(values.index);
    const like = likenessOf(running(values.numbers)) ?? likenessOf(values.numbers);
    if (known !== undefined) {
      const unit = known.kind === "number" ? known.unit : undefined;
      const placed = { channel: known.channel, source: { column: header, unit } };
      return [{ header, placed, recognised: true, why: "a recognised header", unsure: false, choices: [] }];
    }
    if (kind === undefined)
      return [left(header, `no word or unit in its header tells a channel${likenessWords(column, like)}`)];
    if (said.other !== undefined)
      return [left(header, `'${said.other}' in its header: no channel is for that`)];
    const channel = channelAt(kind, said.places);
    if (channel === undefined) return [left(header, "it is of something other than pump and water")];
    if (channel !== "unqualified" && statusChannels.includes(channel)) return [guessStatus(channel, column)];
    if (!values.isNumber || like === undefined) return [left(header, "its cells are not numbers")];
    if (channel === "unqualified") {
      const place = (at: Channel) => guessNumber(at, column, like, american);
      unqualified.push({ header, kind, like, place });
      return [];
    }
    return [guessNumber(channel, column, like, american)];
  });
  const all = [...guesses, ...placeUnqualified(unqualified, guesses)];
  const order = new Map(first.cells.map((header, index) => [header, index]));
  return all.toSorted((a, b) => (order.get(a.header) ?? 0) - (order.get(b.header) ?? 0));
}

/** What a column's numbers are like, for a person to know it by. */
function likenessWords({ values }: Column, like: Likeness | undefined): string {
  if (!values.isNumber || like === undefined) return "";
  const { low, middle, high } = like;
  const loop = low >= 3.6 && high <= 20.8 && high > 4 ? "; perhaps a 4–20 mA signal" : "";
  return `; it reads ${short(low)} to ${short(high)}, mostly ${short(middle)}${loop}`;
}
