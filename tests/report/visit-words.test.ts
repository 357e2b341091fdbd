import { expect, it } from "vitest";
import { lastGroundFault } from "../../src/fleet/found.ts";
import { takeBack } from "../../src/fleet/services.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import type { Visit } from "../../src/fleet/visit.ts";
import { visitFacts } from "../../src/report/visit-words.ts";
import { hour, minute } from "../../src/terms/time.ts";

it("the last ground-fault test is the last by time, whichever work it came with; what takes a work back tests nothing", () => {
  const record = (atMs: number, groundFault: Visit["groundFault"]): ServiceRecord => ({
    ...{ unit: "LM-01", work: "repair", step: "begin", atMs },
    ...(groundFault && { visit: { groundFault } }),
  });
  const [bad, good] = [record(10, "did not trip"), record(20, "tripped")];
  expect(lastGroundFault([good, bad])).toBe("tripped");
  expect(lastGroundFault([bad, good, takeBack(bad, 30), record(40, undefined)])).toBe("tripped");
  expect(lastGroundFault([])).toBeUndefined();
});

it("hand readings are told in the units of display: 1.2192 m of Secchi depth are 4 ft, 18 °C are 64.4 °F", () => {
  const visit = { readings: { dissolvedOxygenMgL: 7.44, secchiM: 1.2192, waterTemperatureC: 18 } };
  expect(visitFacts(visit, "us")).toEqual(["dissolved oxygen 7.4 mg/L, Secchi depth 4.0 ft, water 64.4 °F"]);
  expect(visitFacts(visit, "si")).toEqual(["dissolved oxygen 7.4 mg/L, Secchi depth 1.22 m, water 18.0 °C"]);
});

it("a gauge is told with what the logger had then and by how much it differs, in the units of display", () => {
  const visit: Visit = {
    readings: { waterTemperatureC: 18 },
    gauges: { gas_pressure: 24.2, motor_current: 7.1, suction_pressure: -27.0911 },
    logged: {
      motor_current: { mean: 7.4, spanMs: minute },
      suction_pressure: { mean: -28.7843, spanMs: minute },
      gas_pressure: { mean: 24.21, spanMs: minute },
      water_temperature: { mean: 17, spanMs: hour },
    },
  };
  expect(visitFacts(visit, "si")).toEqual([
    "water 18.0 °C (logger 17.0 °C, mean over 1 h: 1.0 °C lower), motor current 7.1 A (logger 7.4 A: 0.3 A higher), suction pressure -27.1 kPa (logger -28.8 kPa: 1.7 kPa lower), gas pressure 24.2 kPa (logger 24.2 kPa: the same)",
  ]);
  // 1 inHg is 3.386389 kPa (NIST SP 811, appendix B.8).
  expect(visitFacts(visit, "us")[0]).toContain(
    "suction pressure -8.0 inHg (logger -8.5 inHg: 0.5 inHg lower)",
  );
});
