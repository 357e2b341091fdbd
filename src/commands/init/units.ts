import { parseUnitId } from "../../fleet/unit-schema.ts";
import { type LogName, logName } from "./log-names.ts";

/** A unit's logs as their names tell, and why they are one unit's. */
export interface UnitLogs {
  readonly id: string;
  readonly paths: readonly string[];
  readonly why: string;
}

/** What a log covers, and its header in lower case. */
export interface Covered {
  readonly header: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** What a log covers by its path; undefined where it cannot be read. */
export type Coverage = (path: string) => Promise<Covered | undefined>;

/** Logs that share a stem in a folder: so far one unit's. */
interface Series {
  readonly folders: readonly string[];
  readonly names: readonly LogName[];
}

/** Names that say what a file is, and not whose. */
const anybodys =
  /^(?:data|logs?|readings?|exports?|trends?|values?|history|current|latest|output|record(?:ing)?s?|deliver(?:y|ies)|uploads?|batch)$/i;
/** So many logs of a series are looked into. */
const mostLooked = 24;
/** Two logs of one unit may share so much of the shorter one's time: where one was copied before the next began. */
const sharedPart = 0.05;

function grouped<T>(items: readonly T[], key: (item: T) => string): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return [...groups.values()];
}

/** Some of many, the first and the last among them. */
export function some<T>(items: readonly T[], most: number): readonly T[] {
  if (items.length <= most) return items;
  return Array.from(
    { length: most },
    (_, i) => items[Math.round((i * (items.length - 1)) / (most - 1))] as T,
  );
}

interface Part extends Covered {
  readonly counter: number;
}

async function partsOf(series: readonly Series[], coverage: Coverage): Promise<readonly Part[]> {
  const parts: Part[] = [];
  for (const { names } of some(series, mostLooked)) {
    const [name] = names;
    const covered = name === undefined ? undefined : await coverage(name.path);
    if (name === undefined || covered === undefined) continue;
    parts.push({ ...covered, counter: name.counter ?? -1 });
  }
  return parts.sort((a, b) => a.fromMs - b.fromMs);
}

/** Whether logs lie one after another in time and have one header, as parts of one log do. */
function followEachOther(parts: readonly Part[]): boolean {
  return parts.every((part, i) => {
    const before = parts[i - 1];
    if (before === undefined) return true;
    const shared = before.toMs - part.fromMs;
    const shorter = Math.min(before.toMs - before.fromMs, part.toMs - part.fromMs);
    return shared <= sharedPart * shorter && before.header === part.header;
  });
}

function inOrderOfNumbers(parts: readonly Part[]): boolean {
  const rises = parts.every(({ counter }, i) => i === 0 || counter > (parts[i - 1]?.counter ?? 0));
  const falls = parts.every(({ counter }, i) => i === 0 || counter < (parts[i - 1]?.counter ?? 0));
  return rises || falls;
}

const asId = (text: string): string =>
  text
    .normalize("NFC")
    .replace(/[^\p{L}\p{N}._-]+/gu, "-")
    .replace(/^[-.]+|-+$/g, "")
    .slice(0, 60);

/** The units of the logs in a folder named `folder`, by names first and by the times in the logs where names leave it open. */
export async function unitsOf(
  paths: readonly string[],
  folder: string,
  coverage: Coverage,
): Promise<readonly UnitLogs[]> {
  const names = paths.flatMap((path) => logName(path) ?? []);
  const byStem = grouped(names, ({ folders, stem }) => `${folders.join("/")}\n${stem}`).map(
    (group): Series => ({ folders: group[0]?.folders ?? [], names: group }),
  );
  const basesIn = new Map<string, Set<string>>();
  for (const {
    folders,
    names: [name],
  } of byStem) {
    const key = folders.join("/");
    basesIn.set(key, (basesIn.get(key) ?? new Set()).add(name?.base ?? ""));
  }
  const found: { name: string; folders: readonly string[]; paths: string[]; why: string }[] = [];
  for (const group of grouped(
    byStem,
    ({ folders, names: [first] }) => `${folders.join("/")}\n${first?.base}`,
  )) {
    const [
      {
        folders,
        names: [first],
      },
    ] = group as [Series];
    const base = first?.base ?? "";
    const all = group.flatMap((series) => series.names.map(({ path }) => path));
    // One kind of log in a folder with a number, and none in the log's own name: the folder is the skid's.
    const numbered =
      /\d/.test(folders.at(-1) ?? "") && !/\d/.test(base) && basesIn.get(folders.join("/"))?.size === 1;
    const ofFolder = base === "" || anybodys.test(base) || numbered;
    const parts = group.length > 1 ? await partsOf(group, coverage) : [];
    const one = parts.length > 1 && followEachOther(parts) && (ofFolder || inOrderOfNumbers(parts));
    if (one || (group.length === 1 && ofFolder)) {
      const name = ofFolder ? (folders.at(-1) ?? folder) : base;
      const why =
        group.length === 1 ? "named by its folder" : "the numbers in their names follow the time in them";
      found.push({ name, folders: ofFolder ? folders.slice(0, -1) : folders, paths: all, why });
      continue;
    }
    for (const { names: own } of group) {
      const stem = own[0]?.stem ?? "";
      const name = ofFolder ? [folders.at(-1) ?? folder, stem].join("-") : stem;
      const many = group.length > 1 && parts.length > 1;
      const why = many ? "named by its log; its neighbours run at the same time" : "named by its log";
      found.push({ name, folders, paths: own.map(({ path }) => path), why });
    }
  }
  return named(await acrossFolders(found, coverage));
}

type Found = { name: string; folders: readonly string[]; paths: string[]; why: string };

/** One name in several folders is one unit, moved or archived, unless the times run beside each other. */
async function acrossFolders(found: readonly Found[], coverage: Coverage): Promise<readonly Found[]> {
  const units: Found[] = [];
  for (const group of grouped(found, ({ name }) => name.toLowerCase())) {
    const [first] = group;
    if (first === undefined) continue;
    if (group.length === 1) {
      units.push(first);
      continue;
    }
    const series = group.map(({ folders, paths: [path = ""] }) => ({
      folders,
      names: [{ path, folders, stem: "", base: "" }],
    }));
    if (followEachOther(await partsOf(series, coverage))) {
      const paths = group.flatMap((one) => one.paths);
      units.push({ ...first, paths, why: "its logs in several folders follow each other in time" });
    } else {
      const why = "one name in several folders, at the same times";
      units.push(...group.map((one) => ({ ...one, name: [...one.folders, one.name].join("-"), why })));
    }
  }
  return units;
}

/** Gives each its id: no two are alike but for capitals. */
function named(found: readonly Found[]): readonly UnitLogs[] {
  const taken = new Set<string>();
  return found.map(({ name, paths, why }) => {
    const wanted = parseUnitId(name) ?? (asId(name) || "unit");
    let id = wanted;
    for (let i = 2; taken.has(id.normalize("NFC").toLowerCase()); i++) id = `${wanted}-${i}`;
    taken.add(id.normalize("NFC").toLowerCase());
    return { id, paths: paths.toSorted(), why };
  });
}
