import { expect, test } from "vitest";
import { demoFormats } from "../../src/simulate/demo-formats.ts";
import { headerLine, lineWriter } from "../../src/simulate/log-format.ts";
import type { Sample } from "../../src/simulate/sensors.ts";

const sample: Sample = {
  timeMs: Date.UTC(2026, 4, 4, 22, 0, 7),
  values: {
    motor_current: 12.9,
    motor_temperature: 60,
    suction_pressure: -33.9,
    discharge_pressure: 103.4,
    gas_pressure: 125,
    ozone: "on",
  },
};

test("the default header and its row", () => {
  expect(headerLine(demoFormats.plain)).toBe(
    "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone\n",
  );
  expect(lineWriter(demoFormats.plain)(sample)).toBe(
    "2026-05-04T22:00:07Z,12.90,60.0,-33.9,103.4,125.0,on\n",
  );
});

// 1 psi = 6.894757 kPa, 1 inHg = 3.386389 kPa (NIST SP 811).
test("US units: a vacuum in inches of mercury without a sign, local time", () => {
  expect(lineWriter(demoFormats.usUnits)(sample)).toBe(
    "2026-05-04 17:00:07,12.90,140.0,10.01,15.00,18.13,on\n",
  );
});

test("decimal commas between semicolons, CRLF, a byte-order mark before the header", () => {
  expect(headerLine(demoFormats.decimalComma).startsWith("\uFEFFdatetime;motor_current_a;")).toBe(true);
  expect(lineWriter(demoFormats.decimalComma)(sample)).toBe(
    "2026-05-04 17:00:07;12,90;60,0;-33,9;103,4;125,0;on\r\n",
  );
});

test("Unix seconds, own headers, gas pressure on a 4–20 mA loop", () => {
  expect(lineWriter(demoFormats.ownHeaders)(sample)).toBe("1777932007,12.90,140.0,4.92,15.00,9.000,on\n");
});

test("times with an offset, moved by an hour", () => {
  expect(lineWriter(demoFormats.withOffset, 3_600_000)(sample)).toMatch(/^2026-05-04T18:00:07-05:00,/);
});

test("a small vacuum is never written as minus nothing, a value that was not measured as nothing", () => {
  const still = { timeMs: 0, values: { suction_pressure: 0.001, ozone: "off" } } as const;
  expect(lineWriter(demoFormats.usUnits)(still)).toBe("1969-12-31 18:00:00,,,0.00,,,off\n");
});
