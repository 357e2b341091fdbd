/** Logs of invented loggers, as their makers might write them: a running pump, a reading every `stepS`. */
export interface Logger {
  readonly header: readonly string[];
  /** The cells of a reading, `i` from 0. */
  readonly row: (i: number, timeMs: number) => readonly (string | number)[];
  readonly delimiter?: string;
  readonly fromMs?: number;
  readonly stepS?: number;
  readonly rows?: number;
}

export const dayMs = Date.UTC(2026, 4, 4);

/** A small unrest that repeats, so that no gauge reads one number for ever. */
export const wobble = (i: number, by: number): number => by * Math.sin(i * 1.7);

export const local = (timeMs: number): string =>
  new Date(timeMs).toISOString().slice(0, 19).replace("T", " ");

export function foreignLog({
  header,
  row,
  delimiter = ",",
  fromMs = dayMs,
  stepS = 10,
  rows = 300,
}: Logger): string {
  const lines = Array.from({ length: rows }, (_, i) => row(i, fromMs + i * stepS * 1000).join(delimiter));
  return `${[header.join(delimiter), ...lines].join("\n")}\n`;
}

const comma = (x: number): string => x.toFixed(2).replace(".", ",");

/** Semicolons, decimal commas, German words, local times. */
export const german: Logger = {
  delimiter: ";",
  header: [
    "Datum",
    "Motorstrom [A]",
    "Motortemperatur [°C]",
    "Saugdruck [bar]",
    "Druck Ausgang [bar]",
    "Bemerkung",
  ],
  row: (i, t) => [
    local(t),
    comma(9.1 + wobble(i, 0.1)),
    comma(61 + wobble(i, 1)),
    comma(-0.21 + wobble(i, 0.01)),
    comma(0.86),
    "gut",
  ],
};

/** °F, psi and a vacuum without its sign, by headers without units; Unix seconds. */
export const american: Logger = {
  header: ["unix", "Amps", "Shell Temp", "Suction psi", "Discharge psi", "Pond Temp F"],
  row: (i, t) => [
    t / 1000,
    (9.2 + wobble(i, 0.1)).toFixed(2),
    (148 + wobble(i, 1)).toFixed(1),
    (3.1 + wobble(i, 0.1)).toFixed(2),
    (12.4 + wobble(i, 0.2)).toFixed(2),
    (66 + wobble(i, 1)).toFixed(1),
  ],
};

/** Loops as they come from the transducers, and a current in mA. */
export const loops: Logger = {
  header: ["time", "Motor current (mA)", "Gas pressure (mA)", "Suction (inHg)", "Ozone state"],
  row: (i, t) => [
    new Date(t).toISOString(),
    Math.round(9300 + wobble(i, 90)),
    (8.4 + wobble(i, 0.1)).toFixed(2),
    (6.2 + wobble(i, 0.1)).toFixed(2),
    "ON",
  ],
};

/** Headers that say little. */
export const terse: Logger = {
  header: [
    "stamp",
    "I",
    "Accel X",
    "Accel Y",
    "Current",
    "Temperature 1",
    "Temperature 2",
    "Pressure",
    "Battery volts",
    "zq",
  ],
  row: (i, t) => [
    new Date(t).toISOString(),
    i,
    (0.21 + wobble(i, 0.01)).toFixed(3),
    (0.18 + wobble(i, 0.01)).toFixed(3),
    (8.8 + wobble(i, 0.1)).toFixed(2),
    (24 + wobble(i, 0.2)).toFixed(1),
    (71 + wobble(i, 1)).toFixed(1),
    (84 + wobble(i, 1)).toFixed(1),
    12.6,
    7.5,
  ],
};
