import { z } from "zod";
import { operating, someState } from "../condition/features.ts";
import { duration, quantity } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { hour, minute, span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

/** In the order in which they are asked: the air, else what has taken its temperature by standing. */
const thermometers = ["ambient_temperature", "motor_temperature", "water_temperature"] as const;
const [ambient, motor, water] = thermometers.map((channel) => channelIndex[channel]);

const settings = z.strictObject({
  ...common({ delay: "5 min", off_delay: "30 min", priority: "medium" }),
  /** A clear sky cools a casing below the air, and a thermometer on the skid is not in its coldest place (common practice). */
  limit: quantity("°C", { min: -5, max: 10 }).default(2),
  /** Clears this far above the limit. */
  deadband: quantity("K").default(1),
  /** Water that just stood still is still warm from the pond. */
  stopped_for: duration().default(30 * minute),
  /** Without an ambient thermometer: the motor's or the water's tells once it has stood for so long, five time constants of a cooling motor. */
  stopped_for_without_ambient: duration().default(4 * hour),
});

type Settings = z.output<typeof settings>;

interface Memory {
  /** Since when the pump has stood still, as far as was seen; null while it runs. */
  stoppedSinceMs: number | null;
}

/** A unit that stands still, and is not laid up, is near freezing: the water left in it may burst casing and lines. */
export const freezeRisk: Rule<Settings, Memory> = {
  alarm: "freeze-risk",
  version: 1,
  needs: [["motor_current", "power", "run_command"], thermometers],
  needsBaseline: false,
  settings,
  evidence: [
    ...thermometers.map((name) => ({ name, unit: "°C", against: "limit" as const })),
    { name: "motor_stopped_for", unit: "s" },
  ],
  start: () => ({ stoppedSinceMs: null }),
  run(memory, features, from, to, settings, met, stoppedMs) {
    if (!someState(features, operating.stopped, operating.unknown)) {
      memory.stoppedSinceMs = null;
      met.fill(verdict.no, from, to);
      stoppedMs.fill(Number.NaN, from, to);
      return;
    }
    const { state, timeMs, value } = features;
    const { limit, deadband, stopped_for, stopped_for_without_ambient } = settings;
    for (let row = from; row < to; row++) {
      stoppedMs[row] = Number.NaN;
      if (state[row] === operating.unknown) {
        met[row] = verdict.hold;
        continue;
      }
      if (state[row] !== operating.stopped) {
        memory.stoppedSinceMs = null;
        met[row] = verdict.no;
        continue;
      }
      memory.stoppedSinceMs ??= timeMs[row];
      stoppedMs[row] = timeMs[row] - memory.stoppedSinceMs;
      const air = value[ambient][row];
      const shell = value[motor][row];
      // Cold air takes an hour or so to cool the skid; where the motor is measured, it tells when.
      const cooled = Number.isNaN(shell) ? air : Math.max(air, shell - deadband / 2);
      const asked = Number.isNaN(air) ? lower(shell, value[water][row]) : cooled;
      const enough = stoppedMs[row] >= (Number.isNaN(air) ? stopped_for_without_ambient : stopped_for);
      if (!enough || asked > limit + deadband) met[row] = verdict.no;
      else if (!(asked <= limit)) met[row] = verdict.hold;
      else met[row] = features.laidUp(timeMs[row]) ? verdict.no : verdict.met;
    }
  },
  numbers({ value }, row, { limit }, stoppedMs) {
    const air = value[ambient][row];
    const read = [air, value[motor][row], Number.isNaN(air) ? value[water][row] : Number.NaN];
    return [...read.flatMap((t) => [t, limit]), stoppedMs[row] / 1000, Number.NaN];
  },
  say([air, limit, shell, , pond, , stoppedFor], _unit, { value, against }) {
    const pairs = [air, shell, pond].map((t, k) =>
      Number.isNaN(t) ? undefined : against(thermometers[k], t, limit, "ambient_temperature"),
    );
    const read = pairs.map((pair) => pair?.[0]);
    const least = pairs.find((pair) => pair !== undefined)?.[1] ?? value("ambient_temperature", limit);
    const words = ["the air was at", "the motor had cooled to", "the water was at"]
      .map((what, k) => `${what} ${read[k]}`)
      .filter((_, k) => read[k] !== undefined);
    const said = words.join(", ");
    return (
      `${said[0].toUpperCase()}${said.slice(1)} (limit ${least}) and the pump had stood ` +
      `still for ${span(stoppedFor * 1000)}: water left in the casing and the lines may freeze.`
    );
  },
};

/** The lower of two numbers of which either may be missing. */
function lower(a: number, b: number): number {
  return a <= b || Number.isNaN(b) ? a : b;
}
