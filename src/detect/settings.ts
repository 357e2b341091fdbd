import { z } from "zod";
import { duration } from "../fleet/quantity.ts";

/** The settings every rule has, with a rule's own defaults. Durations are written `30 s`, `5 min`. */
export function common(defaults: { delay: string; off_delay: string; priority: "high" | "medium" | "low" }) {
  return {
    delay: duration().default(duration().parse(defaults.delay)),
    off_delay: duration().default(duration().parse(defaults.off_delay)),
    priority: z.enum(["high", "medium", "low"]).default(defaults.priority),
  };
}
