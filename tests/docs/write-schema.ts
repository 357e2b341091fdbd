import { writeFileSync } from "node:fs";
import { ruleSettings } from "../../src/detect/rules.ts";
import { fleetJsonSchema } from "../../src/fleet/fleet-json-schema.ts";

const path = new URL("../../docs/fleet.schema.json", import.meta.url);
writeFileSync(path, `${JSON.stringify(fleetJsonSchema(ruleSettings), null, 2)}\n`);
