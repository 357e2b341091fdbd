import { renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { csvTables } from "../report/csv-tables.ts";
import { reportPage } from "../report/page.ts";
import { readDatabase } from "../store/database.ts";
import { makeFolders } from "../store/make-folders.ts";
import { counted, visible } from "../terms/text.ts";
import { CannotWork, callersPath, fileProblem, print } from "./context.ts";
import { gatherReports } from "./gather-report.ts";
import { must } from "./kept-state.ts";
import { loadFleet } from "./load-fleet.ts";
import { reportPeriod } from "./report-period.ts";
import { ownersOf, type UnitsAsked, unitsBySite, unitsWanted } from "./report-units.ts";
import { stateFolder } from "./state-folder.ts";

export interface ReportOptions extends UnitsAsked {
  readonly out: string;
  readonly from?: string;
  readonly to?: string;
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
    const owners = ownersOf(fleet, units);
    const told = gatherReports(db, fleet, unitsBySite(units), period, nowMs);
    const out = callersPath(options.out);
    writeWhole(out, reportPage(told, owners.length));
    const read = told.flatMap((one) => one.units).filter(({ coverage }) => coverage > 0).length;
    print(`${visible(options.out)}: ${counted(units.length, "unit")}, ${read} with readings in the period`);
    if (owners.length > 1) {
      const names = owners.map((name) => `'${visible(name)}'`).join(", ");
      print(
        `It tells of ${owners.length} customers and is not for handing on; for a page of one write --customer or --site: ${names}`,
      );
    }
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
