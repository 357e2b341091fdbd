import { describe, expect, it, test } from "vitest";
import { shellLimitC } from "../../src/detect/overheating.ts";
import { windingLimitC, windingRiseLimitK } from "../../src/physics/insulation.ts";
import { clean, told, unitOf } from "../support/unit-days.ts";

/**
 * Source: NEMA MG 1, 12.42 and 12.43: temperature rise by resistance at service factors 1.0 and 1.15 on a
 * 40 °C ambient, and the total that insulation systems of each class are rated for (IEC 60085 gives the same
 * totals). Read through secondary texts.
 */
const published = [
  { insulation: "A", totalC: 105, riseK: 60, riseWithServiceFactorK: 70 },
  { insulation: "B", totalC: 130, riseK: 80, riseWithServiceFactorK: 90 },
  { insulation: "F", totalC: 155, riseK: 105, riseWithServiceFactorK: 115 },
  { insulation: "H", totalC: 180, riseK: 125, riseWithServiceFactorK: undefined },
] as const;

describe("motor temperature limits against NEMA MG 1", () => {
  test.each(published)("class $insulation: a winding's total is $totalC °C", ({ insulation, totalC }) => {
    expect(windingLimitC[insulation]).toBe(totalC);
  });

  test.each(published)(
    "class $insulation: a winding rises at most $riseK K, with service factor 1.15 $riseWithServiceFactorK K",
    ({ insulation, riseK, riseWithServiceFactorK }) => {
      expect(windingRiseLimitK(insulation, 1)).toBe(riseK);
      expect(windingRiseLimitK(insulation, 1.15)).toBe(riseWithServiceFactorK);
    },
  );

  test.each(published)(
    "class $insulation: 40 °C ambient and the rise of $riseK K lie 5 to 15 K below the total, the hot-spot allowance",
    ({ insulation, riseK }) => {
      const allowanceK = windingLimitC[insulation] - (40 + riseK);
      expect(allowanceK).toBeGreaterThanOrEqual(5);
      expect(allowanceK).toBeLessThanOrEqual(15);
    },
  );

  test.each(published)(
    "class $insulation: a shell runs cooler than its winding, and so does its limit",
    (row) => {
      expect(shellLimitC[row.insulation]).toBeLessThan(row.totalC);
      expect(shellLimitC[row.insulation]).toBeGreaterThan(40);
    },
  );

  describe.each(published)("a class $insulation winding sensor", ({ insulation, totalC }) => {
    const unit = unitOf(`{ id: LM-01, motor: { insulation_class: ${insulation}, temperature_at: winding } }`);
    const at = (motor_temperature: number) =>
      told(unit, [{ seconds: 600, values: (s) => ({ ...clean(s), motor_temperature }) }]);

    it(`raises overheating at ${totalC} °C and not below`, () => {
      expect(at(totalC - 0.1)).toEqual([]);
      expect(at(totalC)).toEqual(["00:01:00 raised overheating"]);
    });
  });
});
