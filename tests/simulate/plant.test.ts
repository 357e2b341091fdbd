import { describe, expect, test } from "vitest";
import { hydraulicPowerW } from "../../src/physics/pump-power.ts";
import { kpaPerMetre } from "../../src/physics/water.ts";
import { shaftPowerW } from "../../src/simulate/plant.ts";
import { bench, hours } from "./bench.ts";

describe("a skid in order", () => {
  test("the gauges' difference is the head of the pump's curve at the flow it moves", () => {
    const { skid, plant, run } = bench({ liftM: 2 });
    run(600);
    const headM = (plant.dischargeKpa - plant.suctionKpa) / kpaPerMetre;
    const curveM = skid.pump.shutoffHeadM - skid.pump.slope * plant.flowLpm * plant.flowLpm;
    expect(headM).toBeCloseTo(curveM, 2);
    expect(plant.flowLpm).toBeCloseTo(skid.pump.dutyFlowLpm, 2);
  });

  test("lifting higher deepens the vacuum, lowers the pressure and leaves the flow: the pond gives it back", () => {
    const low = bench({ liftM: 1 }).run(600);
    const high = bench({ liftM: 2 }).run(600);
    expect(low.suctionKpa - high.suctionKpa).toBeCloseTo(kpaPerMetre, 3);
    expect(low.dischargeKpa - high.dischargeKpa).toBeCloseTo(kpaPerMetre, 3);
    expect(high.flowLpm).toBeCloseTo(low.flowLpm, 6);
  });

  test("the water takes less than the shaft gives, at every stage of a start", () => {
    for (const horsepower of [0.5, 0.75, 1] as const) {
      const { skid, plant, run } = bench({ horsepower });
      for (let i = 0; i < 60; i++) {
        run(5);
        const headM = (plant.dischargeKpa - plant.suctionKpa) / kpaPerMetre;
        expect(hydraulicPowerW(plant.flowLpm, headM)).toBeLessThan(0.6 * shaftPowerW(plant, skid));
      }
      expect(plant.currentA).toBeLessThan(skid.motor.fullLoadCurrentA);
    }
  });

  test("the shell goes two thirds of its way in 25 to 30 min", () => {
    const { plant, run } = bench();
    run(600);
    const from = plant.shellC;
    const end = bench().run(10 * hours).shellC;
    let minutes = 0;
    while (plant.shellC < from + (1 - Math.exp(-1)) * (end - from)) {
      run(60);
      minutes += 1;
    }
    expect(minutes).toBeGreaterThanOrEqual(25);
    expect(minutes).toBeLessThanOrEqual(30);
    expect(end).toBeGreaterThan(45);
    expect(end).toBeLessThan(70);
  });

  test("a stopped motor, without its fan, cools more slowly than it warmed", () => {
    const { plant, run } = bench();
    const hot = run(10 * hours).shellC;
    const end = run(30 * 60, false).shellC;
    expect((hot - end) / (hot - 20)).toBeLessThan(1 - Math.exp(-1));
    expect(plant.currentA).toBe(0);
  });

  test("gas pressure stands above the pressure it is injected against, and settles after a start", () => {
    const { plant, run } = bench();
    const early = run(180).gasKpa;
    const late = run(1200).gasKpa;
    expect(early).toBeGreaterThan(late);
    expect(late - plant.dischargeKpa).toBeCloseTo(24, 0);
  });

  test("ozone comes on some seconds after the water and goes off with the motor", () => {
    const { plant, run } = bench();
    let waterS = 0;
    let ozoneS = 0;
    for (let t = 5; t <= 300; t += 5) {
      run(5);
      if (waterS === 0 && plant.prime > 0.5) waterS = t;
      if (ozoneS === 0 && plant.ozoneOn) ozoneS = t;
    }
    expect(ozoneS - waterS).toBeGreaterThanOrEqual(20);
    expect(ozoneS - waterS).toBeLessThanOrEqual(30);
    expect(run(5, false).ozoneOn).toBe(false);
  });
});

describe("a start", () => {
  /** Seconds until the discharge pressure has come, and the greatest current before it. */
  function priming(checkValve: boolean) {
    const rig = bench({ checkValve });
    rig.run(600);
    rig.run(300, false);
    let seconds = 0;
    let before = 0;
    while (rig.plant.dischargeKpa < 50 && seconds < 600) {
      before = rig.plant.currentA;
      rig.run(5);
      seconds += 5;
    }
    return { seconds, before, full: rig.skid.motor.fullLoadCurrentA };
  }

  test("without a check valve it draws air for 40 to 120 s, unloaded", () => {
    const { seconds, before, full } = priming(false);
    expect(seconds).toBeGreaterThanOrEqual(40);
    expect(seconds).toBeLessThanOrEqual(125);
    expect(before / full).toBeLessThan(0.85);
  });

  test("with a check valve the column stands, and water comes within 40 s", () => {
    expect(priming(true).seconds).toBeLessThanOrEqual(40);
  });
});

describe("suction-uncovered", () => {
  test.each([0.7, 0.75, 0.8])(
    "unloaded current %s of full load: the current falls by only a tenth to three tenths",
    (unloadedShare) => {
      const rig = bench({ unloadedShare });
      const healthy = rig.run(1 * hours);
      rig.fault("suction-uncovered", 1, 40_000);
      const lost = rig.run(300);
      expect(lost.dischargeKpa).toBeLessThan(0.3 * healthy.dischargeKpa);
      const drop = 1 - lost.currentA / healthy.currentA;
      expect(drop).toBeGreaterThan(0.1);
      expect(drop).toBeLessThan(0.3);
      expect(lost.currentA).toBeGreaterThanOrEqual(unloadedShare * rig.skid.motor.fullLoadCurrentA);
    },
  );

  test("the pressure goes within 20 to 60 s of the onset", () => {
    const rig = bench();
    const healthy = rig.run(1 * hours);
    rig.fault("suction-uncovered", 1, 40_000);
    let seconds = 0;
    while (rig.plant.dischargeKpa > 0.3 * healthy.dischargeKpa) {
      rig.run(5);
      seconds += 5;
    }
    expect(seconds).toBeGreaterThanOrEqual(20);
    expect(seconds).toBeLessThanOrEqual(60);
  });

  test("the vacuum goes with the water, or is held by a check valve", () => {
    for (const checkValve of [false, true]) {
      const rig = bench({ checkValve, liftM: 2 });
      rig.run(1 * hours);
      rig.fault("suction-uncovered");
      const vacuum = -rig.run(600).suctionKpa;
      if (checkValve) expect(vacuum).toBeGreaterThan(15);
      else expect(vacuum).toBeLessThan(3);
    }
  });

  test("running dry heats the casing and then the motor, and the ozone is let off by the flow switch", () => {
    const rig = bench();
    const healthy = rig.run(6 * hours);
    rig.fault("suction-uncovered");
    const dry = rig.run(4 * hours);
    expect(dry.casingC).toBeGreaterThan(70);
    expect(dry.shellC).toBeGreaterThan(healthy.shellC + 2);
    expect(dry.ozoneOn).toBe(false);
  });

  test("a relay that follows the motor alone leaves the ozone on", () => {
    const rig = bench({ ozone: { fitted: true, lagS: 20, follows: "motor" } });
    rig.run(1 * hours);
    rig.fault("suction-uncovered");
    expect(rig.run(600).ozoneOn).toBe(true);
  });

  test("once mended, a stop and a start bring the prime back", () => {
    const rig = bench();
    const healthy = rig.run(1 * hours);
    rig.fault("suction-uncovered");
    rig.run(600);
    rig.mend();
    rig.run(60, false);
    expect(rig.run(300).dischargeKpa).toBeCloseTo(healthy.dischargeKpa, 1);
  });
});

describe("other faults", () => {
  test("blocked cooling takes the shell past 90 °C on a hot day and leaves the pressures", () => {
    const rig = bench({}, 32);
    const healthy = rig.run(6 * hours);
    rig.fault("cooling-blocked", 0.5);
    const hot = rig.run(2 * hours);
    expect(hot.shellC).toBeGreaterThan(90);
    expect(hot.dischargeKpa).toBeCloseTo(healthy.dischargeKpa, 6);
  });

  test("a partly clogged strainer deepens the vacuum and lowers pressure, flow and current", () => {
    const rig = bench();
    const healthy = rig.run(600);
    rig.fault("strainer-clogged", 0.5);
    const clogged = rig.run(600);
    expect(clogged.suctionKpa).toBeLessThan(healthy.suctionKpa - 5);
    expect(clogged.dischargeKpa).toBeLessThan(healthy.dischargeKpa);
    expect(clogged.flowLpm).toBeLessThan(healthy.flowLpm);
    expect(clogged.currentA).toBeLessThan(healthy.currentA);
  });

  // Source: the pattern of a radial pump's gauges (the pump's curve against its friction; signs of cavitation: DOE-HDBK-1018/1-93).
  test.each([
    ["strainer-clogged", 0.6, "deeper", "down", "down"],
    ["suction-blocked", 1, "deeper", "down", "down"],
    ["suction-leak", 0.8, "shallower", "down", "down"],
    ["generator-blocked", 0.5, "shallower", "up", "down"],
    ["line-parted", 0.6, "deeper", "down", "up"],
    ["impeller-weeded", 0.6, "shallower", "down", "down"],
  ] as const)("%s of %s: vacuum %s, discharge pressure %s, current %s", (kind, severity, ...wanted) => {
    const rig = bench();
    const healthy = rig.run(3600);
    rig.fault(kind, severity);
    let vacuum = 0;
    let discharge = 0;
    let current = 0;
    for (let i = 0; i < 60; i++) {
      const now = rig.run(5);
      vacuum += healthy.suctionKpa - now.suctionKpa;
      discharge += now.dischargeKpa - healthy.dischargeKpa;
      current += now.currentA - healthy.currentA;
    }
    const way = (sum: number, up: string, down: string) => (sum > 0 ? up : down);
    expect([
      way(vacuum, "deeper", "shallower"),
      way(discharge, "up", "down"),
      way(current, "up", "down"),
    ]).toEqual(wanted);
  });

  test("a covered suction boils in the eye: the gauges waver as they never do when clean", () => {
    const rig = bench();
    rig.run(3600);
    rig.fault("suction-blocked", 1);
    rig.run(300);
    const shown = Array.from({ length: 60 }, () => rig.run(5));
    // It comes and goes: less water in a boiling eye asks for less NPSH.
    expect(shown.reduce((sum, { cavitating }) => sum + cavitating, 0) / 60).toBeGreaterThan(0.3);
    const heads = shown.map(({ dischargeKpa }) => dischargeKpa);
    expect(Math.max(...heads) - Math.min(...heads)).toBeGreaterThan(5);
  });

  test("a gas line that scales up raises the gas pressure by as much a day as it says, and nothing else", () => {
    const rig = bench();
    const healthy = rig.run(1800);
    rig.fault("gas-line-fouling", 0.5);
    const fouled = rig.run(24 * hours);
    expect(fouled.gasKpa / healthy.gasKpa).toBeCloseTo(1.05, 2);
    expect(fouled.dischargeKpa).toBeCloseTo(healthy.dischargeKpa, 6);
  });

  test("a welded relay keeps the ozone on while the pump rests, until the supply is lost", () => {
    const rig = bench();
    rig.run(600);
    rig.fault("ozone-relay-welded");
    expect(rig.run(600, false).ozoneOn).toBe(true);
    rig.fault("supply-lost");
    expect(rig.run(5, false).ozoneOn).toBe(false);
  });

  test.each(["protector-tripped", "supply-lost"] as const)(
    "%s: a motor that should run has no current and cools",
    (kind) => {
      const rig = bench();
      const healthy = rig.run(2 * hours);
      rig.fault(kind);
      const stopped = rig.run(1 * hours);
      expect(stopped.currentA).toBe(0);
      expect(stopped.dischargeKpa).toBeLessThan(0.1);
      expect(stopped.shellC).toBeLessThan(healthy.shellC - 10);
    },
  );

  test.each(["ozone-cell-off", "ozone-cell-fault"] as const)("%s: the water moves without ozone", (kind) => {
    const rig = bench();
    rig.fault(kind);
    const plant = rig.run(600);
    expect(plant.ozoneOn).toBe(false);
    expect(plant.flowLpm).toBeGreaterThan(50);
  });
});
