import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeUnit, encodeUnit } from "../src/collector/checkpoint.ts";
import { goOnPlaying, play, startPlayer } from "../src/collector/play.ts";
import { step, type UnitState } from "../src/engine.ts";
import { withLapses } from "../src/fleet/services.ts";
import type { ServiceRecord, Unit } from "../src/fleet/unit.ts";
import type { AlarmName } from "../src/terms/alarms.ts";
import type { ReadingBatch } from "../src/terms/batch.ts";
import type { Finding } from "../src/terms/events.ts";
import { cutAt, cuts, randomLog } from "./support/random-logs.ts";
import { midnight, start, unitOf } from "./support/unit-days.ts";

const units = [
  "{ id: LM-01, runs: always, motor: { full_load_current: 9.8 A } }",
  "{ id: LM-01, sample_interval: 10 s, ozone: fitted, baseline: { from: 2026-05-04T00:05:00Z, for: 20 min } }",
  '{ id: LM-01, runs: ["00:30-01:30"], limits: { lost-prime: { delay: 0 s, off_delay: 0 s } } }',
].map((yaml) => unitOf(yaml));
const unitOfAny = fc.constantFrom(...units);

/** A unit that is killed after each part and goes on from its checkpoint. */
function killedBetween(
  unit: Unit,
  parts: readonly ReadingBatch[],
): { findings: Finding[]; state: UnitState } {
  let state = start(unit);
  const findings: Finding[] = [];
  for (const batch of parts) {
    findings.push(...step(state, { kind: "readings", batch }));
    const again = decodeUnit(unit, { timezone: "UTC" }, encodeUnit(state));
    expect(again.anew).toEqual([]);
    state = again.state;
  }
  return { findings, state };
}

function through(unit: Unit, parts: readonly ReadingBatch[]): { findings: Finding[]; state: UnitState } {
  const state = start(unit);
  return { findings: parts.flatMap((batch) => step(state, { kind: "readings", batch })), state };
}

const record = fc.record({
  unit: fc.constant("LM-01"),
  work: fc.constantFrom<ServiceRecord["work"]>(
    "inspection",
    "cleaning",
    "repair",
    "re-piping",
    "planned stop",
  ),
  step: fc.constantFrom<ServiceRecord["step"]>("begin", "begin", "end", "done"),
  atMs: fc.integer({ min: 0, max: 180 }).map((minute) => midnight + minute * 60_000),
  untilMs: fc.option(
    fc.integer({ min: 0, max: 240 }).map((minute) => midnight + minute * 60_000),
    { nil: undefined },
  ),
});
const decision = fc.record({
  unit: fc.constant("LM-01"),
  work: fc.constant("baseline" as const),
  step: fc.constantFrom<ServiceRecord["step"]>("confirm", "relearn"),
  atMs: fc.integer({ min: 0, max: 180 }).map((minute) => midnight + minute * 60_000),
});
const services = fc
  .array(fc.oneof(record, record, decision), { maxLength: 6 })
  .map((records) =>
    withLapses(
      records.filter(
        ({ step, atMs, untilMs }: ServiceRecord) =>
          step !== "begin" || !(untilMs !== undefined && untilMs <= atMs),
      ),
    ),
  );

describe("whatever a unit's log holds", () => {
  it("it tells the same, and stands the same after it, however its readings are split", () => {
    fc.assert(
      fc.property(unitOfAny, randomLog, cuts, (unit, log, places) => {
        const whole = through(unit, [log]);
        const split = through(unit, cutAt(log, places));
        expect(split.findings).toEqual(whole.findings);
        expect(JSON.parse(encodeUnit(split.state))).toEqual(JSON.parse(encodeUnit(whole.state)));
      }),
      { numRuns: 150 },
    );
  });

  it("it tells the same read one reading at a time", () => {
    fc.assert(
      fc.property(unitOfAny, randomLog, (unit, log) => {
        const every = Array.from({ length: log.rows }, (_, row) => row / log.rows);
        expect(through(unit, cutAt(log, every)).findings).toEqual(through(unit, [log]).findings);
      }),
      { numRuns: 40 },
    );
  });

  it("it tells the same where it is killed and goes on from its checkpoint, at any readings", () => {
    fc.assert(
      fc.property(unitOfAny, randomLog, cuts, (unit, log, places) => {
        const whole = through(unit, [log]);
        const killed = killedBetween(unit, cutAt(log, places));
        expect(killed.findings).toEqual(whole.findings);
        expect(JSON.parse(encodeUnit(killed.state))).toEqual(JSON.parse(encodeUnit(whole.state)));
      }),
      { numRuns: 150 },
    );
  });

  it.each([true, false])(
    "with services between, it tells the same however it is split or killed; a clock passes its silences: %s",
    (clockRuns) => {
      fc.assert(
        fc.property(unitOfAny, randomLog, cuts, services, (unit, log, places, services) => {
          const played = (parts: readonly ReadingBatch[], killed: boolean) => {
            let player = startPlayer(start(unit), services);
            const findings: Finding[] = [];
            const silences: unknown[] = [];
            for (const batch of parts) {
              findings.push(...play(player, batch, clockRuns));
              silences.push(...player.silences.splice(0));
              if (!killed) continue;
              const { state } = decodeUnit(unit, { timezone: "UTC" }, encodeUnit(player.state));
              player = goOnPlaying(state, player.services, player.playedMs);
            }
            return {
              findings,
              silences,
              services: player.services,
              state: JSON.parse(encodeUnit(player.state)),
            };
          };
          const whole = played([log], false);
          expect(played(cutAt(log, places), false)).toEqual(whole);
          expect(played(cutAt(log, places), true)).toEqual(whole);
        }),
        { numRuns: 80 },
      );
    },
  );

  it("it tells the same whether or not people confirm its baseline", () => {
    fc.assert(
      fc.property(unitOfAny, randomLog, fc.integer({ min: 0, max: 180 }), (unit, log, minute) => {
        const confirm: ServiceRecord = {
          unit: "LM-01",
          work: "baseline",
          step: "confirm",
          atMs: midnight + minute * 60_000,
        };
        const told = (services: readonly ServiceRecord[]) =>
          play(startPlayer(start(unit), services), log, false);
        expect(told([confirm])).toEqual(told([]));
      }),
      { numRuns: 40 },
    );
  });

  it("the logs tried make every alarm that has a rule come, be suppressed or go", () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(unitOfAny, randomLog, (unit, log) => {
        for (const { alarm, event } of through(unit, [log]).findings) met.add(`${alarm} ${event}`);
      }),
      { numRuns: 400, seed: 1 },
    );
    const alarms: readonly AlarmName[] = [
      ...(["lost-prime", "failed-to-prime", "overheating", "not-running"] as const),
      ...(["ozone-off", "ozone-while-stopped", "ozone-without-water"] as const),
    ];
    const wanted = alarms.flatMap((alarm) => [`${alarm} raised`, `${alarm} cleared`]);
    expect([...met]).toEqual(
      expect.arrayContaining([...wanted, "overheating suppressed", "overheating unsuppressed"]),
    );
  });
});
