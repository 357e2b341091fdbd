import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { pictures } from "./pictures.ts";
import { writeReportPictures } from "./report-pictures.ts";
import { copyPonds, readSaid, sessionOf } from "./shown.ts";
import { svgOf } from "./svg.ts";

/** Remakes the pictures of screens in the README and the manual, and those of a report. */
const ponds = "/tmp/ponds";

mkdirSync(ponds);
try {
  copyPonds(ponds);
  for (const { said, title, file } of pictures()) {
    const session = await sessionOf(readSaid(said), ponds);
    mkdirSync(new URL(".", file), { recursive: true });
    writeFileSync(file, svgOf(session.cells(), title));
    session.close();
  }
} finally {
  rmSync(ponds, { recursive: true });
}
await writeReportPictures(new URL("../../docs/pictures/", import.meta.url));
process.exit(0);
