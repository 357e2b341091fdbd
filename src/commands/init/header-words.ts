import type { Channel } from "../../terms/channels.ts";

/** What a column measures, before where is known. */
export type Kind =
  | "current"
  | "temperature"
  | "pressure"
  | "flow"
  | "voltage"
  | "power"
  | "vibration"
  | "level"
  | "ozone"
  | "run";

/** Where it measures, as a header may say it. */
type Place = "suction" | "discharge" | "gas" | "motor" | "water" | "ambient";

/** Words of headers as loggers of the trade write them (common practice), lower case. */
const kindWords: Readonly<Record<Kind, readonly string[]>> = {
  vibration: ["accelerometer", "acceleration", "accel", "vibration", "vib", "schwingung"],
  temperature: ["temperature", "temp", "temps", "thermocouple", "rtd", "pt100", "temperatur"],
  pressure: ["pressure", "press", "vacuum", "vakuum", "vac", "head", "druck", "presion", "pression"],
  flow: ["flow", "flowrate", "throughput", "durchfluss", "caudal", "debit"],
  voltage: ["voltage", "volts", "volt", "mains", "spannung", "tension"],
  power: ["power", "watts", "watt", "leistung", "potencia"],
  level: ["level", "stage", "pegel", "nivel", "niveau"],
  current: ["current", "amps", "amp", "ampere", "amperes", "amperage", "strom", "corriente", "courant"],
  ozone: ["ozone", "ozon", "o3", "ozono", "cell"],
  run: ["run", "running", "command", "cmd", "enable", "enabled"],
};

const placeWords: Readonly<Record<Place, readonly string[]>> = {
  gas: ["gas", "oxygen", "o2", "feed", "cell", "sparge", "injection", "injector", "ozone", "ozon", "o3"],
  suction: ["suction", "intake", "inlet", "vacuum", "vakuum", "vac", "saug", "aspiration"],
  discharge: ["discharge", "outlet", "delivery", "out", "head"],
  motor: ["motor", "shell", "winding", "casing", "housing", "stator", "body"],
  water: ["water", "pond", "lake", "fluid", "liquid", "intake", "inlet", "wasser", "agua", "eau"],
  ambient: ["ambient", "outdoor", "outside", "weather", "air", "luft"],
};

/** Words in one word, as German writes them. */
const compounds = [
  "strom",
  "druck",
  "temperatur",
  "durchfluss",
  "spannung",
  "leistung",
  "saug",
  "motor",
  "wasser",
];

/** A column with one of these is not a reading of the skid that a channel takes. */
const otherWords = [
  ...["battery", "batt", "signal", "rssi", "modem", "setpoint", "limit", "alarm", "count", "counter"],
  ...["total", "totalizer", "hours", "runtime", "cpu", "anomaly", "label", "differential", "diff", "dp"],
  ...["barometric", "barometer", "atmospheric", "board", "logger", "humidity", "bearing"],
];

/** What stands in brackets at a header's end, such as a unit. */
export function bracketed(header: string): string | undefined {
  return /[([{]\s*([^()[\]{}]+?)\s*[)\]}]\s*$/.exec(header)?.[1];
}

/** A header's words in lower case: parted by signs, by capitals and before digits. */
export function wordsOf(header: string): readonly string[] {
  return header
    .replace(/[([{][^)\]}]*[)\]}]/g, " ")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replace(/([A-Z])([A-Z][a-z])/g, "$1 $2")
    .toLowerCase()
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .split(/[^\p{L}\p{N}]+/u)
    .flatMap((word) =>
      /^(?:o[23]|pt100)$/.test(word) ? [word] : word.split(/(?<=\p{L})(?=\d)|(?<=\d)(?=\p{L})/u),
    )
    .filter((word) => word !== "");
}

/** Where alone tells what: a thermometer sits at a shell, a gauge on a suction. */
const kindOfPlace: readonly (readonly [Place, Kind])[] = [
  ["motor", "temperature"],
  ["suction", "pressure"],
  ["discharge", "pressure"],
];

const says = (words: readonly string[], vocabulary: readonly string[]): boolean =>
  words.some((word) =>
    vocabulary.some((known) => word === known || (compounds.includes(known) && word.includes(known))),
  );

/** What a header says by its words: of what kind it is, and where. */
export interface Said {
  readonly kind?: Kind;
  /** Whether a word says the kind, and not only the place. */
  readonly named: boolean;
  readonly places: readonly Place[];
  /** The word for which no channel takes it. */
  readonly other?: string;
}

export function saidBy(header: string): Said {
  const words = wordsOf(header);
  const other = words.find((word) => otherWords.includes(word));
  const named = (Object.keys(kindWords) as Kind[]).find((kind) => says(words, kindWords[kind]));
  const places = (Object.keys(placeWords) as Place[]).filter((place) => says(words, placeWords[place]));
  // A motor by itself may be said of anything.
  const alone = words.includes("motor")
    ? undefined
    : kindOfPlace.find(([place]) => places.includes(place))?.[1];
  return { kind: named ?? alone, named: named !== undefined, places, other };
}

/** The channel of a kind at a place; undefined where the place is not said, or no channel is for it. */
export function channelAt(kind: Kind, places: readonly Place[]): Channel | "unqualified" | undefined {
  const at = (place: Place) => places.includes(place);
  switch (kind) {
    case "current":
      return at("gas") ? undefined : "motor_current";
    case "temperature":
      if (at("motor")) return "motor_temperature";
      if (at("water")) return "water_temperature";
      if (at("ambient")) return "ambient_temperature";
      return at("gas") ? undefined : "unqualified";
    case "pressure":
      if (at("gas")) return "gas_pressure";
      if (at("suction")) return "suction_pressure";
      if (at("discharge")) return "discharge_pressure";
      return at("ambient") ? "gas_pressure" : "unqualified";
    case "flow":
      return at("gas") || at("ambient") ? "gas_flow" : "flow";
    case "voltage":
      return at("gas") ? undefined : "voltage";
    case "power":
      return at("gas") ? undefined : "power";
    case "vibration":
      return "vibration";
    case "level":
      return "water_level";
    case "ozone":
      return at("ambient") ? "ozone_in_air" : "ozone";
    case "run":
      return "run_command";
  }
}
