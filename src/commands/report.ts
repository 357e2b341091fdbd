import { renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { nearest } from "../fleet/nearest.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { csvTables } from "../report/csv-tables.ts";
import { reportPage } from "../report/page.ts";
import { readDatabase } from "../store/database.ts";
import { makeFolders } from "../store/make-folders.ts";
import { counted, visible } from "../terms/text.ts";
import { CannotWork, callersPath, fileProblem, print } from "./context.ts";
import { gatherReport } from "./gather-report.ts";
import { must } from "./kept-state.ts";
import { loadFleet, unitIn } from "./load-fleet.ts";
import { reportPeriod } from "./report-period.ts";
import { stateFolder } from "./state-folder.ts";

export interface ReportOptions {
  readonly out: string;
  readonly from?: string;
  readonly to?: string;
  readonly site?: string;
  readonly unit?: string;
  /** A folder; true: beside the page. */
  readonly csv?: string | true;
  readonly state?: string;
}

/** `report`: a page for a customer on a period, from what is kept. Reads the state folder and changes nothing in it. */
export async function report(fleetPath: string, options: ReportOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const nowMs = Date.now();
  const period = reportPeriod(options, fleet.timezone, nowMs);
  const units = unitsWanted(fleet, options);
  const folder = stateFolder(fleet, path, options.state);
  const db = must(readDatabase(folder));
  if (db === null) {
    throw new CannotWork(`${visible(folder)}: no state is kept there yet; start watch or collect first`);
  }
  try {
    const told = gatherReport(db, fleet, units, period, nowMs);
    const out = callersPath(options.out);
    writeWhole(out, reportPage(told));
    const read = told.units.filter(({ coverage }) => coverage > 0).length;
    print(`${visible(options.out)}: ${counted(units.length, "unit")}, ${read} with readings in the period`);
    if (options.csv !== undefined) {
      const beside = options.csv === true ? dirname(out) : callersPath(options.csv);
      makeFolder(beside);
      for (const { name, text } of csvTables(told)) {
        const file = join(beside, `${basename(out, extname(out))}-${name}.csv`);
        writeWhole(file, text);
        print(visible(file));
      }
    }
    return 0;
  } finally {
    db.close();
  }
}

function unitsWanted(fleet: Fleet, { site, unit }: ReportOptions): readonly Unit[] {
  if (unit !== undefined) {
    const one = unitIn(fleet, unit);
    if (site !== undefined && one.site !== site) {
      throw new CannotWork(`${visible(unit)} is not at '${visible(site)}'; leave out --site or --unit`);
    }
    return [one];
  }
  if (site === undefined) return fleet.units;
  const there = fleet.units.filter((one) => one.site === site);
  if (there.length > 0) return there;
  const sites = fleet.sites.map(({ name }) => name);
  const hint = sites.length === 0 ? "no unit has a site" : `the nearest is ${visible(nearest(site, sites))}`;
  throw new CannotWork(`no unit of this fleet is at '${visible(site)}'; ${hint}`);
}

function makeFolder(path: string): void {
  try {
    makeFolders(path, 0o777);
  } catch (error) {
    throw new CannotWork(fileProblem(path, error, "write"));
  }
}

/** Writes a file that is there whole or not at all. */
function writeWhole(path: string, text: string): void {
  const part = `${path}.part`;
  try {
    writeFileSync(part, text);
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw new CannotWork(fileProblem(path, error, "write"));
  }
}
