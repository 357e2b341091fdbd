import { z } from "zod";
import { fleetSchema } from "./fleet-schema.ts";
import { jsonSchema } from "./json-schema.ts";
import type { RuleSettings } from "./limits.ts";
import { writtenService } from "./services.ts";
import { unitSchema } from "./unit-schema.ts";

/** The fleet file as JSON Schema 2020-12, for editors. The program itself is stricter, and says what to write. */
export function fleetJsonSchema(ruleSettings: RuleSettings): Record<string, unknown> {
  const { properties, ...top } = jsonSchema(fleetSchema);
  const unit = jsonSchema(unitSchema(ruleSettings));
  const keys = Object.keys(unit.properties as object).filter((key) => key !== "id");
  const asInUnit = (key: string) => ({ $ref: `#/properties/units/items/properties/${key}` });
  return {
    $schema: z.toJSONSchema(z.unknown()).$schema,
    title: "Fleet file of tarnwatch",
    ...top,
    properties: {
      ...(properties as object),
      defaults: {
        description: "any key of a unit but its id, for all units",
        type: "object",
        properties: Object.fromEntries(keys.map((key) => [key, asInUnit(key)])),
        additionalProperties: false,
      },
      units: { description: "a list, a unit an item", type: "array", minItems: 1, items: unit },
      services: {
        description: "services and planned stops",
        type: "array",
        items: jsonSchema(writtenService),
      },
    },
    required: ["units"],
  };
}
