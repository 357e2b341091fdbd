import { describe, expect, it } from "vitest";
import { withUnitKey } from "../../src/fleet/record-at.ts";

const record = "{ on: 2026-05-04, motor_current: 9.1 A }";
const at = (text: string, unit = "LM-01") => withUnitKey(text, unit, "commissioning", record);

describe("a commissioning record in a fleet file", () => {
  it("stands under its unit, and the rest stays as it is written", () => {
    expect(at("units:\n  - id: LM-01 # at the weir\n    runs: always\n  - id: LM-02\n")).toBe(
      `units:\n  - id: LM-01 # at the weir\n    commissioning: ${record}\n    runs: always\n  - id: LM-02\n`,
    );
    expect(at("units:\n  - { id: LM-01, runs: always } # weir\n")).toBe(
      `units:\n  - { id: LM-01, runs: always, commissioning: ${record} } # weir\n`,
    );
    expect(at("units: [{ id: LM-01 }, { id: LM-02 }]", "LM-02")).toBe(
      `units: [{ id: LM-01 }, { id: LM-02, commissioning: ${record} }]`,
    );
    expect(at("units:\n- id: LM-01")).toBe(`units:\n- id: LM-01\n  commissioning: ${record}`);
  });

  it("takes the place of an earlier one, however that is written", () => {
    const block =
      "units:\n  - id: LM-01\n    commissioning:\n      on: 2025-01-01\n      flow: 2 L/s\n    runs: always\n";
    expect(at(block)).toBe(`units:\n  - id: LM-01\n    commissioning:\n      ${record}\n    runs: always\n`);
    expect(at("units:\n  - { id: LM-01, commissioning: { flow: 2 L/s }, runs: always }\n")).toBe(
      `units:\n  - { id: LM-01, commissioning: ${record}, runs: always }\n`,
    );
  });

  it("is not forced upon a unit that is no mapping of its own", () => {
    expect(at("one: &one { id: LM-01 }\nunits: [*one]\n")).toBeNull();
    expect(at("units: []\n")).toBeNull();
  });
});
