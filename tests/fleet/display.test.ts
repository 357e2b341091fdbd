import fc from "fast-check";
import { expect, test } from "vitest";
import { displayed, displayUnit, spoken } from "../../src/fleet/display.ts";
import { toStored } from "../../src/fleet/units.ts";
import { channels, channelUnit } from "../../src/terms/channels.ts";

test("display: si shows what is stored", () => {
  for (const channel of channels) {
    expect(displayed(channel, 12.5, "si")).toMatchObject({ value: 12.5, unit: channelUnit[channel] });
  }
});

test("display: us shows what a technician's gauges show", () => {
  const shown = (...of: Parameters<typeof displayed>) => {
    const { value, unit, decimals } = displayed(...of);
    return `${value.toFixed(decimals)} ${unit}`;
  };
  expect(shown("motor_temperature", 60, "us")).toBe("140.0 °F");
  expect(shown("discharge_pressure", 86.4, "us")).toBe("12.5 psi");
  expect(shown("gas_pressure", 10, "us")).toBe("1.45 psi");
  expect(shown("suction_pressure", -20.3, "us")).toBe("-6.0 inHg");
  expect(shown("flow", 113.56, "us")).toBe("30.0 gpm");
  expect(shown("water_level", 1.5, "us")).toBe("4.92 ft");
  expect(shown("motor_current", 9.84, "us")).toBe("9.8 A");
  expect(shown("ozone_in_air", 0.1, "us")).toBe("0.100 ppm");
  expect(shown("ozone", 1, "us")).toBe("1 ");
});

test("a value and what it is held against are said in as many digits as tell them apart", () => {
  // 90 °C are 194 °F: the limit of a class B motor's shell. 90.06 °C are 194.108 °F.
  expect(spoken("us").against("motor_temperature", 90.06, 90)).toEqual(["194.1 °F", "194 °F"]);
  expect(spoken("us").against("motor_temperature", 90.02, 90)).toEqual(["194.04 °F", "194 °F"]);
  expect(spoken("si").against("motor_temperature", 92.37, 90)).toEqual(["92.4 °C", "90 °C"]);
  expect(spoken("si").against("motor_current", 12.004, 12)).toEqual(["12.004 A", "12 A"]);
  // Two channels, each in its own number of digits.
  expect(spoken("us").against("gas_pressure", 85.9, 86, "discharge_pressure")).toEqual([
    "12.46 psi",
    "12.47 psi",
  ]);
});

test("what is the same to a thousandth, or missing, is said as an instrument shows it", () => {
  expect(spoken("si").against("motor_current", 12, 12)).toEqual(["12 A", "12 A"]);
  expect(spoken("si").against("motor_current", 12.000_01, 12)).toEqual(["12 A", "12 A"]);
  expect(spoken("si").against("motor_current", 12.34, Number.NaN)).toEqual(["12.3 A", "NaN A"]);
});

test("a missing value stays missing", () => {
  expect(displayed("motor_temperature", Number.NaN, "us").value).toBeNaN();
});

test("what is shown, read back in its unit, is what was stored", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...channels),
      fc.double({ min: -1e4, max: 1e4, noNaN: true }),
      (channel, stored) => {
        const { value } = displayed(channel, stored, "us");
        const back = toStored(displayUnit(channel, "us"), channelUnit[channel]) ?? { factor: 1, offset: 0 };
        expect(value * back.factor + back.offset).toBeCloseTo(stored, 8);
      },
    ),
  );
});
