import { cautions } from "../advise/cautions.ts";
import { truncate, wrap } from "../dashboard/width.ts";
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
export function siteLines({ fleet, whatIf, views }: SiteShown): string[] {
  const count = (verdict: Verdict): number => views.filter(({ report }) => report.verdict === verdict).length;
  const counts = (["fail", "caution", "unknown", "pass"] as const).map((v) => `${count(v)} ${v}`).join(", ");
  return [
    ...wrap(`${visible(fleet)}: ${counted(views.length, "unit")}: ${counts}`, columns),
    ...(whatIf.length === 0 ? [] : wrap(`what if ${whatIf.map(visible).join(", ")}`, columns)),
    ...views.flatMap((view) => ["", ...(view.before === null ? unitLines(view) : changeLines(view))]),
    "",
    ...wrap(
      `Reckoned, not measured: it stands in for no survey. ${cautions.electrician} Outlets at the water need ground-fault protection (NEC 682.15). ${cautions.unplug} ${cautions.manual}`,
      columns,
    ),
  ];
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

function unitLines(view: SiteView): string[] {
  const { lines, verdict, assumed } = view.report;
  const rows = table(
    lines.map((line) => [line.verdict, line.check, line.value?.text ?? dash, limitText(line), line.source]),
    5,
  );
  return [
    head(view, verdict),
    ...lines.flatMap((line, i) => [rows[i] ?? "", ...(line.verdict === "unknown" ? [] : noteLines(line))]),
    ...missingLines(lines),
    ...(assumed.length === 0 ? [] : wrap(`Taken for granted: ${assumed.join("; ")}.`, columns)),
    ...confirmLines(view),
  ];
}

/** What to enter, each with the lines that want it. */
function missingLines(lines: readonly Line[]): string[] {
  const wanted = Map.groupBy(
    lines.filter(({ verdict }) => verdict === "unknown"),
    ({ note }) => note ?? "",
  );
  return [...wanted].flatMap(([note, want]) =>
    wrap(`Not judged: ${want.map(({ check }) => check).join(", ")}. ${visible(note)}`, columns),
  );
}

/** How a person confirms what was measured, and where it is kept. */
function confirmLines({ report, measured }: SiteView): string[] {
  const { unit } = report;
  const said = Object.entries(measured).filter(([, reading]) => reading.from === "command line");
  if (said.length > 0) {
    const record = said.map(
      ([channel, { value }]) =>
        `${channel}: ${Number(value.toPrecision(4))} ${channelUnit[channel as Channel]}`,
    );
    return [
      "To keep these readings with the unit, write under it:",
      ...wrap(`commissioning: { ${record.join(", ")} }`, columns - 2).map((part) => `  ${part}`),
    ];
  }
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
