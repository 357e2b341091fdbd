import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { runDelays, startDelay, type Transition } from "../../src/assess/delays.ts";
import { verdict } from "../../src/detect/rule.ts";

const code = { ".": verdict.no, "#": verdict.met, "~": verdict.hold } as const;

/** Transitions for a row every second, drawn as `.` normal, `#` met, `~` hold. */
function transitions(drawn: string, onS: number, offS: number, steps: Record<number, number> = {}): string[] {
  const met = Uint8Array.from([...drawn].map((c) => code[c as keyof typeof code]));
  let t = 0;
  const timeMs = Float64Array.from(met, (_, row) => {
    t += (steps[row] ?? 1) * 1000;
    return t;
  });
  const told: Transition[] = [];
  const delays = { onMs: onS * 1000, offMs: offS * 1000, gapMs: 60_000 };
  runDelays(startDelay(), delays, timeMs, met, 0, met.length, Number.NaN, (x) => told.push(x));
  return told.map(({ row, kind, sinceMs }) => `${row} ${kind} since ${sinceMs / 1000 - 1}`);
}

describe("delays and deadband", () => {
  it("come on at the first reading at which the delay has passed, since the first that met it", () => {
    expect(transitions("..####", 3, 3)).toEqual(["2 began since 2", "5 on since 2"]);
  });

  it("keep since through a break shorter than the off-delay", () => {
    expect(transitions("##..####", 5, 3)).toEqual(["0 began since 0", "5 on since 0"]);
  });

  it("abandon a condition that was away for the off-delay, since the first normal reading", () => {
    expect(transitions("##....##", 5, 3)).toEqual([
      "0 began since 0",
      "5 abandoned since 2",
      "6 began since 6",
    ]);
  });

  it("clear after the off-delay of normal readings, and count it anew after each that is not", () => {
    expect(transitions("####..#....", 3, 3)).toEqual(["0 began since 0", "3 on since 0", "10 off since 7"]);
  });

  it("hold in the deadband: an active alarm stays, a pending one does not come on by it", () => {
    expect(transitions("####~~~~~~~~", 3, 3)).toEqual(["0 began since 0", "3 on since 0"]);
    expect(transitions("##~~~~~#", 3, 3)).toEqual(["0 began since 0", "3 lapsed since 0", "7 on since 0"]);
    expect(transitions("..~~~~~~", 0, 0)).toEqual([]);
  });

  it("start a pending delay anew after a gap in the readings", () => {
    expect(transitions("##########", 3, 3, { 2: 100 })).toEqual([
      "0 began since 0",
      "2 began since 101",
      "5 on since 101",
    ]);
  });

  it("come on at once without a delay", () => {
    expect(transitions(".#.", 0, 0)).toEqual(["1 began since 1", "1 on since 1", "2 off since 2"]);
  });

  it("say the same however the rows are split", () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(verdict.no, verdict.met, verdict.hold), { minLength: 1, maxLength: 60 }),
        fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 60, maxLength: 60 }),
        fc.array(fc.nat(60), { maxLength: 6 }),
        fc.nat(20),
        fc.nat(20),
        (verdicts, stepS, cuts, onS, offS) => {
          const met = Uint8Array.from(verdicts);
          let t = 0;
          const timeMs = Float64Array.from(met, (_, row) => {
            t += stepS[row] * 1000;
            return t;
          });
          const delays = { onMs: onS * 1000, offMs: offS * 1000, gapMs: 60_000 };
          const whole: Transition[] = [];
          runDelays(startDelay(), delays, timeMs, met, 0, met.length, Number.NaN, (x) => whole.push(x));
          const split: Transition[] = [];
          const state = startDelay();
          const stops = [...cuts.filter((c) => c < met.length), met.length].sort((a, b) => a - b);
          let from = 0;
          for (const to of stops) {
            const previousMs = from === 0 ? Number.NaN : timeMs[from - 1];
            runDelays(state, delays, timeMs, met, from, to, previousMs, (x) => split.push(x));
            from = to;
          }
          expect(split).toEqual(whole);
        },
      ),
    );
  });
});
