import { z } from "zod";
import { duration, quantity } from "../../src/fleet/quantity.ts";

/** Settings of two invented rules, one strict and one not, as rules declare theirs. */
export const ruleSettings = {
  overheating: z
    .strictObject({
      delay: duration().default(30_000),
      off_delay: duration().default(60_000),
      priority: z.enum(["high", "medium", "low"]).default("high"),
      limit: quantity("°C", { max: 180 }).optional(),
      deadband: quantity("K", { min: 0 }).default(2),
    })
    .refine(({ limit, deadband }) => limit === undefined || deadband < limit, {
      path: ["deadband"],
      error: "the deadband reaches below 0 degC; write a smaller one",
    }),
  "lost-prime": z.object({ delay: duration().default(20_000), unloaded: quantity("%").default(70) }),
};
