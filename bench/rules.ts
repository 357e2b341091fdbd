import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { experimentsFolder, scoreExperiments } from "./experiments.ts";
import { type BenchFleet, built, faultArgs, pooled } from "./fleets.ts";
import { slowHeat } from "./heat.ts";
import { foretold } from "./heat-limit.ts";
import {
  wantedClean,
  wantedDrift,
  wantedExperiments,
  wantedFaulty,
  wantedHeat,
  wantedLines,
} from "./wanted.ts";

/** Seeds that no rule was tuned on: those below 100 are for tuning. */
const faultySeeds = [101, 102, 103, 104, 105];
const cleanSeeds = [201, 202, 203];
const driftSeed = 301;
const heatSeeds = [311, 312, 313];

/** Gas pressure that rises so many per cent a day is to be told within so many days. */
const driftsWanted = [
  { percent: 1, days: 8 },
  { percent: 3, days: 4 },
] as const;

/**
 * `npm run bench -- rules [--units 40] [--days 14] [--interval "10 s"] [--seeds 5]`: what the rules catch, how
 * late, and what they tell for nothing, on simulated fleets that they were not tuned on, on gas lines that foul
 * at a known rate, on motors that slowly lose their cooling, and on the open pump experiments; then what was wanted.
 */
export async function bench(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      units: { type: "string", default: "40" },
      days: { type: "string", default: "14" },
      interval: { type: "string", default: "10 s" },
      seeds: { type: "string", default: "5" },
    },
  });
  const size = ["--units", values.units, "--days", values.days, "--interval", values.interval];
  const { score } = await built<typeof import("../src/score/score.ts")>("score/score.js");
  const { scoreLines } =
    await built<typeof import("../src/commands/score-text.ts")>("commands/score-text.js");
  const { scoreJson } = await built<typeof import("../src/commands/score-json.ts")>("commands/score-json.js");
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-bench-"));
  const seeds = (list: readonly number[]) => list.slice(0, Number(values.seeds));
  const scored = async (title: string, fleets: readonly BenchFleet[]) => {
    const { faults, told, unitDays } = await pooled(fleets, folder);
    const result = score(faults, told, unitDays);
    console.log(`\n== ${title} ==\n${scoreLines(result).join("\n")}`);
    return result;
  };
  try {
    const faulty = await scored(
      `all faults, ${values.units} units, ${values.days} days, every ${values.interval}`,
      seeds(faultySeeds).map((seed) => ({ name: "faulty", seed, args: size })),
    );
    const clean = await scored(
      "nothing wrong",
      seeds(cleanSeeds).map((seed) => ({ name: "clean", seed, args: [...size, "--clean"] })),
    );
    const drifts = [];
    for (const { percent, days } of driftsWanted) {
      const faults = faultArgs(`gas-line-fouling,severity=${percent / 10},after=24h`, 8);
      const result = await scored(`gas pressure that rises ${percent} % a day`, [
        { name: `drift-${percent}`, seed: driftSeed, args: ["--units", "8", "--days", "13", ...faults] },
      ]);
      drifts.push({ percent, days, result });
    }
    const heat = await heatScored(seeds(heatSeeds), folder);
    const experiments = existsSync(experimentsFolder) ? await scoreExperiments(experimentsFolder) : null;
    const wanted = [
      ...wantedFaulty(faulty),
      ...wantedClean(clean),
      ...drifts.map(({ percent, days, result }) => wantedDrift(result, percent, days)),
      wantedHeat(heat),
      ...wantedExperiments(experiments?.all ?? { f1: null, false_alarm_rate: null }),
    ];
    console.log(`\n== wanted and measured ==\n${wantedLines(wanted).join("\n")}`);
    const driftsJson = Object.fromEntries(drifts.map(({ percent, result }) => [percent, scoreJson(result)]));
    console.log(
      `\n${JSON.stringify({ bench: "rules", ...values, faulty: scoreJson(faulty), clean: scoreJson(clean), drifts: driftsJson, heat, experiments, wanted })}`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Motors that lose their cooling more slowly than they warm: how many were told before they reached their limit. */
async function heatScored(seeds: readonly number[], folder: string) {
  const { share } = await built<typeof import("../src/score/figures.ts")>("score/figures.js");
  const result = foretold(await slowHeat(seeds, folder));
  const told = share(result.foretold, result.reached);
  const lead = result.leadMedianMs === null ? "–" : `${(result.leadMedianMs / 60_000).toFixed(1)} min`;
  console.log(
    [
      "\n== cooling lost more slowly than the motor's time constant ==",
      `${result.faults} faults; ${result.neverReached} never reached the limit while they lasted`,
      `of ${result.reached} that did, ${result.foretold} were told before${
        told === null
          ? ""
          : `: ${told.value.toFixed(3)} (${told.low.toFixed(3)} to ${told.high.toFixed(3)}), median lead ${lead}`
      }`,
    ].join("\n"),
  );
  return { ...result, told };
}
