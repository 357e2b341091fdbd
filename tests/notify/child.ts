import { readFile } from "node:fs/promises";
import { readFleet } from "../../src/fleet/read.ts";
import { startNotifying } from "../../src/notify/notifying.ts";
import { openDatabase } from "../../src/store/database.ts";
import { openStateFolder } from "../../src/store/folder.ts";

/** A process that tells of one view, and then runs until it is killed. */
const [fleetPath = "", viewPath = "", statePath = ""] = process.argv.slice(2);
const read = readFleet(await readFile(fleetPath, "utf8"), { path: fleetPath, folder: "/" }, {});
const folder = (await openStateFolder(statePath)).value;
const db = folder && openDatabase(folder).value?.db;
if ("problems" in read || db === undefined) throw new Error("it cannot begin");
const notifying = startNotifying({ fleet: read.fleet, db, now: Date.now });
const view = JSON.parse(await readFile(viewPath, "utf8"));
setInterval(() => notifying.look({ ...view, clockMs: Date.now() }), 50);
