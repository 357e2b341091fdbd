import { Temporal } from "temporal-polyfill";
import { decodeUnit } from "../collector/checkpoint.ts";
import { isConfirmed } from "../condition/commissioning.ts";
import { ruleSettings } from "../detect/rules.ts";
import { commissioning } from "../fleet/commissioning-schema.ts";
import { check } from "../fleet/problems.ts";
import { unitsLacking } from "../fleet/quantity.ts";
import { notLifted } from "../fleet/suction-gauge.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { StoredUnit } from "../fleet/units.ts";
import { type Changes, parseChanges } from "../fleet/what-if.ts";
import type { Measured } from "../site/installation.ts";
import { judgeSite, judgeTried, type SiteReport } from "../site/judge.ts";
import { amountsIn } from "../site/line.ts";
import { type Channel, channelIndex, channelUnit } from "../terms/channels.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { CannotWork, print } from "./context.ts";
import { speaker } from "./kept-state.ts";
import { loadFleet, unitIn } from "./load-fleet.ts";
import { type KeptFleet, readKept } from "./read-kept.ts";
import { siteJson } from "./site-json.ts";
import { keepRecord } from "./site-record.ts";
import { recordText, siteLines } from "./site-text.ts";
import { stateFolder } from "./state-folder.ts";

export interface SiteOptions {
  readonly unit?: string;
  readonly whatIf: readonly string[];
  readonly measured: readonly string[];
  /** Who read the gauges; default: the login. */
  readonly by?: string;
  /** Keeps what was measured in the fleet file as the unit's commissioning record. */
  readonly record?: boolean;
  readonly json?: boolean;
  readonly state?: string;
}

/** A unit's report, and where something is tried what it was before, to which alone what was measured belongs. */
export interface SiteView {
  readonly report: SiteReport;
  readonly before: SiteReport | null;
  readonly measured: Measured;
}

/** `site`: judges each installation's hydraulics and electrics. 1 where something failed, with what is tried in force. */
export async function site(fleetPath: string | undefined, options: SiteOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const only = options.unit === undefined ? null : unitIn(fleet, options.unit);
  if (only === null && options.measured.length > 0) {
    throw new CannotWork("--measured: say of which unit with --unit");
  }
  if (options.by !== undefined && options.measured.length === 0)
    throw new CannotWork("--by goes with --measured: say what the gauges showed");
  if (options.record && options.measured.length === 0)
    throw new CannotWork("--record goes with --measured: say what the gauges showed");
  const said = only === null ? {} : readings(options.measured, only);
  const changes = options.whatIf.length === 0 ? null : changesOf(options.whatIf);
  const tried = changes === null ? null : (await loadFleet(fleetPath, [], changes.over)).fleet;
  const kept = readKept(fleet, stateFolder(fleet, path, options.state), Date.now(), true);
  const amounts = amountsIn(fleet.display);
  const views = fleet.units
    .filter((unit) => only === null || unit === only)
    .map((unit): SiteView => {
      const measured = { ...fromBaseline(unit, fleet, kept), ...fromRecord(unit), ...said };
      const now = judgeSite(unit, measured, amounts);
      if (tried === null) return { report: now, before: null, measured };
      const report = judgeTried(unit, unitIn(tried, unit.id), measured, amounts);
      return { report, before: now, measured };
    });
  const on = Temporal.Instant.fromEpochMilliseconds(Date.now())
    .toZonedDateTimeISO(fleet.timezone)
    .toPlainDate()
    .toString();
  const by = speaker(options.by);
  if (options.record && only !== null) keepRecord(path, fleet, only, recordText(said, { on, by }));
  const read = { on, by, isKept: options.record ?? false };
  const shown = { fleet: fleet.name, read, whatIf: options.whatIf, tried: changes?.tried ?? [], views };
  if (options.json) print(jsonLine(siteJson(shown)));
  else for (const line of siteLines(shown)) print(line);
  return views.some(({ report }) => report.verdict === "fail") ? 1 : 0;
}

function changesOf(whatIf: readonly string[]): Changes {
  const changes = parseChanges(whatIf, ruleSettings);
  if ("problem" in changes) throw new CannotWork(`--what-if ${changes.problem}`);
  return changes;
}

/** What `--measured` says: `suction_pressure=-12kPa`, as a commissioning record has it. */
function readings(assignments: readonly string[], unit: Unit): Measured {
  return Object.assign(
    {},
    ...assignments.map((assignment) => {
      const [channel = "", ...rest] = assignment.split("=");
      if (rest.length === 0 || ["on", "by"].includes(channel.trim())) {
        const example = "write CHANNEL=VALUE, such as suction_pressure=-12kPa";
        throw new CannotWork(`--measured '${visible(assignment)}' is no reading; ${example}`);
      }
      const { value, problems } = check(commissioning, { [channel.trim()]: rest.join("=").trim() });
      if (value === undefined) {
        const [first] = problems;
        throw new CannotWork(`--measured ${visible(channel)}: ${first?.problem ?? "is not accepted"}`);
      }
      const written = rest.join("=").trim();
      const lacking = unitsLacking(written, channelUnit[channel.trim() as Channel] as StoredUnit);
      if (lacking !== undefined) {
        const write = lacking.map((quantity) => `${channel.trim()}=${quantity}`).join(" or ");
        throw new CannotWork(
          `--measured ${visible(channel)}: '${visible(written)}' has no unit; write ${write}`,
        );
      }
      for (const [name, stored] of Object.entries(value.values)) {
        const why = notLifted(name as Channel, stored, unit);
        if (why !== undefined)
          throw new CannotWork(`--measured ${visible(channel)}: '${visible(written)}' is ${why}`);
      }
      return from(value.values, "command line");
    }),
  );
}

function fromRecord({ commissioning: record }: Unit): Measured {
  if (record === undefined) return {};
  const { by, on } = record;
  const who = [
    by === undefined ? "" : ` by ${visible(by)}`,
    on === undefined || by === undefined ? "" : ` of ${on}`,
  ];
  return from(record.values, `commissioning record${who.join("")}`);
}

/** The centres of the baseline that is kept of the unit, where there is one. */
function fromBaseline(unit: Unit, fleet: Fleet, kept: KeptFleet): Measured {
  const saved = kept.units.get(unit.id)?.saved;
  if (saved === null || saved === undefined) return {};
  const { baseline } = decodeUnit(unit, fleet, saved.text).state.condition;
  if (baseline === null) return {};
  const centres = (["motor_current", "suction_pressure", "discharge_pressure", "flow"] as const).map(
    (channel) => [channel, baseline.signals[channelIndex[channel]]?.center] as const,
  );
  const known = centres.filter(([, centre]) => centre !== undefined);
  return from(
    Object.fromEntries(known),
    `${isConfirmed(unit, baseline) ? "confirmed" : "provisional"} baseline`,
  );
}

function from(values: Readonly<Partial<Record<Channel, number>>>, who: string): Measured {
  return Object.fromEntries(
    Object.entries(values).map(([channel, value]) => [channel, { value, from: who }]),
  );
}
