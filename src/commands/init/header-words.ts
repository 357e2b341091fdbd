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

/** A vacuum, which is the suction's. */
const vacuumWords: readonly string[] = [
  ...["vacuum", "vakuum", "vac", "unterdruck", "onderdruk"],
  ...["vide", "depression", "vacio", "depresion", "vuoto", "depressione", "vacuo"],
];

/**
 * Words of headers as loggers of the trade write them (common practice), lower case and without accents: English, German,
 * French, Spanish, Italian, Dutch. A kind stands before those whose words are parts of its own.
 */
const kindWords: Readonly<Record<Kind, readonly string[]>> = {
  vibration: [
    ...["accelerometer", "acceleration", "accel", "vibration", "vib"],
    ...["schwingung", "vibracion", "vibrazione", "vibrazioni", "trilling"],
  ],
  temperature: [
    ...["temperature", "temp", "temps", "thermocouple", "rtd", "pt100"],
    ...["temperatur", "temperatura", "temperatuur"],
  ],
  voltage: ["voltage", "volts", "volt", "mains", "spannung", "tension", "tensione", "voltaje", "spanning"],
  pressure: [
    ...["pressure", "press", "head", "druck", "presion", "pression", "pressione", "druk"],
    ...vacuumWords,
  ],
  flow: [
    ...["flow", "flowrate", "throughput", "durchfluss", "volumenstrom", "forderstrom", "gasstrom"],
    ...["caudal", "debit", "portata", "debiet"],
  ],
  power: ["power", "watts", "watt", "leistung", "potencia", "puissance", "potenza", "vermogen"],
  level: ["level", "stage", "pegel", "nivel", "niveau", "livello", "peil"],
  current: [
    ...["current", "amps", "amp", "ampere", "amperes", "amperage", "strom"],
    ...["corriente", "courant", "intensite", "corrente", "stroom"],
  ],
  ozone: ["ozone", "ozon", "o3", "ozono", "cell"],
  run: ["run", "running", "command", "cmd", "enable", "enabled"],
};

const placeWords: Readonly<Record<Place, readonly string[]>> = {
  gas: [
    ...[
      "gas",
      "oxygen",
      "o2",
      "feed",
      "cell",
      "sparge",
      "injection",
      "injector",
      "ozone",
      "ozon",
      "o3",
      "ozono",
    ],
    ...["gasdruck", "gasvordruck", "gasstrom", "gastemperatur", "sauerstoff", "gasdruk", "zuurstof"],
    ...["gaz", "oxygene", "oxigeno", "ossigeno"],
  ],
  suction: [
    ...["suction", "intake", "inlet", "saug", "eintritt", "eingang", "zulauf", "zuig", "inlaat"],
    ...["aspiration", "succion", "aspiracion", "aspirazione", "entree", "entrada", "ingresso"],
    ...vacuumWords,
  ],
  discharge: [
    ...["discharge", "outlet", "delivery", "out", "head"],
    ...["forder", "foerder", "druckseite", "druckseitig", "enddruck", "auslass", "austritt", "ausgang"],
    ...["refoulement", "sortie", "descarga", "impulsion", "salida", "mandata", "uscita"],
    ...["pers", "persdruk", "perszijde", "uitlaat"],
  ],
  motor: [
    ...["motor", "shell", "winding", "casing", "housing", "stator", "body"],
    ...["wicklung", "gehause", "moteur", "carcasse", "carcasa", "motore", "carcassa", "wikkeling"],
  ],
  water: [
    ...["water", "pond", "lake", "fluid", "liquid", "intake", "inlet", "wasser", "teich", "vijver"],
    ...["agua", "estanque", "eau", "etang", "acqua", "stagno"],
  ],
  ambient: [
    ...["ambient", "outdoor", "outside", "weather", "air", "luft", "lufttemperatur", "umgebung", "außen"],
    ...["exterieur", "ambiente", "exterior", "esterna", "esterno", "buiten"],
  ],
};

/** Words in one word, as German and Dutch write them. */
const compounds = [
  ...["unterdruck", "gasdruck", "gasvordruck", "enddruck", "druckseite", "druck"],
  ...["volumenstrom", "forderstrom", "gasstrom", "durchfluss", "strom"],
  ...["temperatur", "spannung", "leistung", "schwingung", "pegel", "ozon", "sauerstoff"],
  ...["saug", "eintritt", "eingang", "zulauf", "forder", "foerder", "auslass", "austritt", "ausgang"],
  ...["motor", "wicklung", "gehause", "wasser", "teich", "umgebung", "außen"],
  ...[
    "onderdruk",
    "gasdruk",
    "persdruk",
    "druk",
    "stroom",
    "temperatuur",
    "spanning",
    "zuig",
    "water",
    "buiten",
  ],
];

/** A motor by itself may be said of anything. */
const motors = ["motor", "moteur", "motore"];

/** A column with one of these is not a reading of the skid that a channel takes. */
const otherWords = [
  ...["battery", "batt", "signal", "rssi", "modem", "setpoint", "limit", "alarm", "count", "counter"],
  ...["total", "totalizer", "hours", "runtime", "cpu", "anomaly", "label", "differential", "diff", "dp"],
  ...["barometric", "barometer", "atmospheric", "board", "logger", "humidity", "bearing"],
  ...["batterie", "sollwert", "grenzwert", "betriebsstunden", "differenzdruck", "luftdruck", "luftfeuchte"],
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
  /** Whether a word says that it is a vacuum. */
  readonly vacuum: boolean;
  /** The word for which no channel takes it. */
  readonly other?: string;
}

export function saidBy(header: string): Said {
  const words = wordsOf(header);
  const other = words.find((word) => otherWords.includes(word));
  const named = (Object.keys(kindWords) as Kind[]).find((kind) => says(words, kindWords[kind]));
  const places = (Object.keys(placeWords) as Place[]).filter((place) => says(words, placeWords[place]));
  const alone = words.some((word) => motors.includes(word))
    ? undefined
    : kindOfPlace.find(([place]) => places.includes(place))?.[1];
  const vacuum = says(words, vacuumWords);
  return { kind: named ?? alone, named: named !== undefined, places, vacuum, other };
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
