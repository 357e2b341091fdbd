import fc from "fast-check";
import { expect, test } from "vitest";
import { displayed, displayUnit } from "../../src/fleet/display.ts";
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
