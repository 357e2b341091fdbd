import { cautions } from "../advise/cautions.ts";
import { truncate, wrap } from "../dashboard/width.ts";
import type { Tried } from "../fleet/what-if.ts";
import type { Measured } from "../site/installation.ts";
import type { Line, Verdict } from "../site/line.ts";
import { type Channel, channelUnit } from "../terms/channels.ts";
import { counted, visible } from "../terms/text.ts";
import { commandName } from "./context.ts";
import type { SiteView } from "./site.ts";
import type { SiteShown } from "./site-json.ts";
import { table } from "./table.ts";

const columns = 80;
const indent = " ".repeat(9);
const dash = "–";

/** Reports as lines of at most 80 columns. */
export function siteLines({ fleet, read, tried, views }: SiteShown): string[] {
  const ordered = worstFirst(views);
  const count = (verdict: Verdict): number => views.filter(({ report }) => report.verdict === verdict).length;
  const counts = (["fail", "caution", "unknown", "pass"] as const).map((v) => `${count(v)} ${v}`).join(", ");
  return [
    ...wrap(`${visible(fleet)}: ${counted(views.length, "unit")}: ${counts}`, columns),
    ...tried.flatMap((one) => wrap(`what if ${triedText(one)}`, columns)),
    ...ordered.map(summaryLine),
    ...ordered.flatMap((view) => ["", ...(view.before === null ? unitLines(view, read) : changeLines(view))]),
    "",
    ...wrap(
      `Reckoned, not measured: it stands in for no survey. ${cautions.electrician} Outlets at the water need ground-fault protection (NEC 682.15). ${cautions.unplug} ${cautions.manual}`,
      columns,
    ),
  ];
}

function triedText({ key, written, stored }: Tried): string {
  return visible(`${key}=${written}${stored === null ? "" : ` (stored as ${stored})`}`);
}

function head({ report }: SiteView, verdict: string): string {
  const place = report.site === null ? "" : `  ${visible(report.site)}`;
  return truncate(`${verdict.toUpperCase()}  ${visible(report.unit)}${place}`, columns);
}

function limitText({ limit, sense }: Line): string {
  if (limit === null) return dash;
  return sense === "about" || sense === null ? limit.text : `${sense} ${limit.text}`;
}

function noteLines({ note }: Line): string[] {
  return note === null ? [] : wrap(visible(note), columns - indent.length).map((part) => indent + part);
}

/** Whether a line that cannot be judged tells something all the same: a value, or what a gauge ought to show. */
const tells = ({ verdict, value, sense }: Line): boolean =>
  verdict !== "unknown" || value !== null || sense === "about";

function unitLines(view: SiteView, read: SiteShown["read"]): string[] {
  const { lines, verdict, assumed } = view.report;
  const shownLines = [
    ...lines.filter((line) => line.verdict !== "unknown"),
    ...lines.filter((line) => line.verdict === "unknown" && tells(line)),
  ];
  const rows = table(
    shownLines.map((line) => [
      line.verdict,
      line.check,
      line.value?.text ?? dash,
      limitText(line),
      line.source,
    ]),
    5,
  );
  return [
    head(view, verdict),
    ...shownLines.flatMap((line, i) => [
      rows[i] ?? "",
      ...(line.verdict === "unknown" ? [] : noteLines(line)),
    ]),
    ...missingLines(lines),
    ...(assumed.length === 0 ? [] : wrap(`Taken for granted: ${assumed.join("; ")}.`, columns)),
    ...confirmLines(view, read),
  ];
}

/** Keys to enter with the lines that want them, those that most want first. */
function wantedKeys(lines: readonly Line[]): readonly (readonly [string, readonly Line[]])[] {
  const pairs = lines.flatMap((line) => line.enter.map((key) => ({ key, line })));
  return [...Map.groupBy(pairs, ({ key }) => key)]
    .map(([key, wanting]) => [key, wanting.map(({ line }) => line)] as const)
    .toSorted(([, a], [, b]) => b.length - a.length);
}

/** What to enter, each key with the lines that want it. */
function missingLines(lines: readonly Line[]): string[] {
  const wanted = wantedKeys(lines);
  if (wanted.length === 0) return [];
  return [
    "Not judged, by what to enter:",
    ...wanted.flatMap(([key, wanting]) => {
      const what = key === "commissioning" ? "commissioning, as the gauges show" : key;
      const [first = "", ...rest] = wrap(
        `${what}: ${wanting.map(({ check }) => check).join(", ")}`,
        columns - 4,
      );
      return [`  ${first}`, ...rest.map((part) => `    ${part}`)];
    }),
  ];
}

/** A unit in one line: how many lines of each verdict, and what to enter for the rest. */
function summaryLine({ report: { unit, lines } }: SiteView): string {
  const count = (verdict: Verdict): number => lines.filter((line) => line.verdict === verdict).length;
  const keys = wantedKeys(lines).map(([key]) => key);
  const counts = `${visible(unit)}: ${count("pass")} pass, ${count("caution")} caution, ${count("fail")} fail, ${count("unknown")} not judged`;
  const first = (n: number): string =>
    `${counts}: enter ${keys.slice(0, n).join(", ")}${n < keys.length ? ", …" : ""}`;
  const fitting = keys.map((_, i) => keys.length - i).find((n) => first(n).length <= columns);
  return truncate(fitting === undefined ? counts : first(fitting), columns);
}

/** Units with the worst verdict first, then those with most lines of it. */
function worstFirst(views: readonly SiteView[]): readonly SiteView[] {
  const count = ({ report }: SiteView, verdict: Verdict): number =>
    report.lines.filter((line) => line.verdict === verdict).length;
  const order = (a: SiteView, b: SiteView): number =>
    (["fail", "caution", "unknown"] as const)
      .map((verdict) => count(b, verdict) - count(a, verdict))
      .find((difference) => difference !== 0) ?? 0;
  return views.toSorted(order);
}

/** What the command line says was measured, as a commissioning record in one line of YAML. */
export function recordText(measured: Measured, { on, by }: Pick<SiteShown["read"], "on" | "by">): string {
  const said = Object.entries(measured).filter(([, reading]) => reading.from === "command line");
  const values = said.map(
    ([channel, { value }]) =>
      `${channel}: ${Number(value.toPrecision(4))} ${channelUnit[channel as Channel]}`,
  );
  return `{ on: ${on}, by: ${JSON.stringify(by)}, ${values.join(", ")} }`;
}

/** How a person confirms what was measured, and where it is kept. */
function confirmLines({ report, measured }: SiteView, read: SiteShown["read"]): string[] {
  const { unit } = report;
  const { on, by, isKept } = read;
  const said = Object.values(measured).some((reading) => reading.from === "command line");
  if (said && isKept)
    return [
      ...wrap(
        `Kept in the fleet file as the commissioning record of ${visible(unit)}: of ${on}, by ${visible(by)}. Its baseline is confirmed where it agrees; a collector that runs takes it up at its next start, or at SIGHUP (see collect).`,
        columns,
      ),
    ];
  if (said)
    return [
      "To keep these readings with the unit give --record as well, or write under it:",
      ...wrap(`commissioning: ${recordText(measured, read)}`, columns - 2).map((part) => `  ${part}`),
    ];
  if (!Object.values(measured).some((reading) => reading.from === "provisional baseline")) return [];
  return wrap(
    `Its baseline is provisional. If it ran clean then: ${commandName()} service baseline FLEET ${visible(unit)} confirm`,
    columns,
  );
}

/** Before and after: only the lines that differ. */
function changeLines(view: SiteView): string[] {
  const { report, before } = view;
  const earlier = new Map(
    before?.lines.map((line) => [line.check + (line.source === "geometry" ? line.note : ""), line]),
  );
  const differing = report.lines.flatMap((line) => {
    const key = line.check + (line.source === "geometry" ? line.note : "");
    const was = earlier.get(key);
    earlier.delete(key);
    const same = was !== undefined && shown(was) === shown(line) && limitText(was) === limitText(line);
    return same ? [] : [{ check: line.check, was, now: line as Line | undefined }];
  });
  const gone = [...earlier.values()].map((was) => ({ check: was.check, was, now: undefined }));
  const all = [...differing, ...gone];
  const rows = table(
    all.map(({ check, was, now }) => [
      check,
      was === undefined ? dash : shown(was),
      `→ ${now === undefined ? "gone" : shown(now)}`,
      now === undefined ? "" : limitText(now),
    ]),
    4,
  );
  const unchanged = report.lines.length - differing.length;
  return [
    head(view, before === null ? report.verdict : `${before.verdict} → ${report.verdict}`),
    ...all.flatMap(({ now }, i) => [rows[i] ?? "", ...(now === undefined ? [] : noteLines(now))]),
    `${counted(unchanged, "line")} unchanged`,
  ];
}

function shown({ verdict, value }: Line): string {
  return value === null ? verdict : `${verdict} ${value.text}`;
}
