import { expect, it } from "vitest";
import { takeBack } from "../../src/fleet/services.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import type { Visit } from "../../src/fleet/visit.ts";
import { lastGroundFault, visitFacts } from "../../src/report/visit-words.ts";

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
