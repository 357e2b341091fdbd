import { closeSync, openSync, readdirSync, readSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fleetFileMark } from "../simulate/invented-fleet-file.ts";
import { makeFolders } from "../store/make-folders.ts";
import { visible } from "../terms/text.ts";
import { CannotWork, callersPath, fileProblem } from "./context.ts";

/** The line for a folder that could not be written. */
export function cannotWrite(path: string, error: unknown): CannotWork {
  return new CannotWork(`${fileProblem(path, error, "write")}; name a folder that can be written`);
}

/**
 * A folder to write an invented fleet into: new, empty, or where `replace` asks for it cleared of the one that is
 * there. Gives its absolute path. Throws `CannotWork` where it holds anything else, or cannot be written.
 */
export function inventedFolder(path: string, replace: boolean): string {
  const folder = callersPath(path);
  try {
    makeFolders(folder);
    if (readdirSync(folder).length === 0) return folder;
    if (!replace)
      throw new CannotWork(`${visible(path)} is not empty; name another folder, or add --replace`);
    if (!holdsInventedFleet(folder)) {
      throw new CannotWork(
        `${visible(path)} holds no fleet of simulate (its fleet.yaml would begin with '${fleetFileMark}'); name another folder`,
      );
    }
    // The fleet file goes last: until then the folder is known for what it is.
    for (const name of ["logs", "services.csv", "truth.csv", "fleet.yaml"]) {
      rmSync(join(folder, name), { recursive: true, force: true });
    }
    return folder;
  } catch (error) {
    throw error instanceof CannotWork ? error : cannotWrite(path, error);
  }
}

function holdsInventedFleet(folder: string): boolean {
  if (!readdirSync(folder).includes("fleet.yaml")) return false;
  const file = openSync(join(folder, "fleet.yaml"), "r");
  try {
    const beginning = Buffer.alloc(fleetFileMark.length);
    readSync(file, beginning);
    return beginning.toString("latin1") === fleetFileMark;
  } finally {
    closeSync(file);
  }
}
