import { basename, dirname, extname, join } from "node:path";
import { csvLines } from "../report/csv.ts";
import { csvTables, readingHeads, readingRows } from "../report/csv-tables.ts";
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
import { openWhole, writeWhole } from "./whole-file.ts";

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
  const out = callersPath(options.out);
  const tables = options.csv === undefined ? null : tablesBeside(out, options.csv);
  const readings = tables && openWhole(tables("readings"));
  try {
    const owners = ownersOf(fleet, units);
    readings?.write(csvLines([readingHeads]));
    const told = gatherReports(db, fleet, unitsBySite(units), period, nowMs, (unit, spans) =>
      readings?.write(csvLines(readingRows(unit, spans, period))),
    );
    writeWhole(out, [reportPage(told, owners.length)]);
    const read = told.flatMap((one) => one.units).filter(({ coverage }) => coverage > 0).length;
    print(`${visible(options.out)}: ${counted(units.length, "unit")}, ${read} with readings in the period`);
    if (read === 0)
      print(`none was found in the state folder ${visible(folder)}; another is named with --state`);
    if (owners.length > 1) {
      const names = owners.map((name) => `'${visible(name)}'`).join(", ");
      print(
        `It tells of ${owners.length} customers and is not for handing on; for a page of one write --customer or --site: ${names}`,
      );
    }
    if (tables !== null) {
      readings?.keep();
      for (const { name, rows } of csvTables(told)) writeWhole(tables(name), csvLines(rows));
      for (const name of tableNames) print(visible(tables(name)));
    }
    return 0;
  } finally {
    readings?.drop();
    db.close();
  }
}

const tableNames = ["units", "readings", "alarms", "services"] as const;

/** The path of each table, in a folder that is made where it is not there. */
function tablesBeside(out: string, csv: string | true): (name: (typeof tableNames)[number]) => string {
  const beside = csv === true ? dirname(out) : callersPath(csv);
  makeFolder(beside);
  return (name) => join(beside, `${basename(out, extname(out))}-${name}.csv`);
}

function makeFolder(path: string): void {
  try {
    makeFolders(path, 0o777);
  } catch (error) {
    throw new CannotWork(fileProblem(path, error, "write"));
  }
}
