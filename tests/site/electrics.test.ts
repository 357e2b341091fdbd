import { describe, expect, it, test } from "vitest";
import { but, known, knownBut, lineOf } from "../support/sites.ts";

const supply = (from: string, to: string) => knownBut({ supply: but(known.supply, from, to) });

describe("a circuit", () => {
  // 9.8 A of the nameplate with 0.3, 0.6, 0.4 and 0.1 A: 11.2 A. NEC 210.20(A): 12 A on 15 A.
  it("carries motor, ozone, gas source, heater and logger together", () => {
    const line = lineOf(knownBut(), "circuit load");
    expect(line).toMatchObject({ verdict: "pass", source: "NEC 210.20(A)" });
    expect(line.value?.value).toBeCloseTo(11.2, 9);
    expect(line.limit?.value).toBe(12);
  });

  it("is a caution past 80 % of its rating, fails past the whole, and an electrician decides", () => {
    const more = (amperes: number) =>
      lineOf(supply("logger_load: 0.1 A", `other_load: ${amperes} A`), "circuit load");
    expect(more(0.9).verdict).toBe("pass");
    expect(more(0.91)).toMatchObject({ verdict: "caution" });
    expect(more(3.9).verdict).toBe("caution");
    expect(more(3.91).verdict).toBe("fail");
    for (const amperes of [0.91, 3.91]) expect(more(amperes).note).toMatch(/An electrician decides/);
  });

  it("says what was not counted and how much is left for it", () => {
    const { note } = lineOf(knownBut({ supply: "{ circuit: 15 A }" }), "circuit load");
    expect(note).toMatch(/^Not counted: ozone, gas source, heater and logger; 2.2 A are left/);
  });
});

test("14 AWG copper on a 20 A breaker fails (NEC 240.4(D))", () => {
  expect(lineOf(knownBut(), "circuit on wire").verdict).toBe("pass");
  expect(lineOf(supply("circuit: 15 A", "circuit: 20 A"), "circuit on wire").verdict).toBe("fail");
});

test("a wire too thick for the rule of small conductors goes by its ampacity, and a motor's own circuit by 430.52", () => {
  const on = (wire: string, circuit: string) =>
    lineOf(knownBut({ supply: `{ circuit: ${circuit}, wire: ${wire} AWG }` }), "circuit on wire");
  expect(on("10", "30 A")).toMatchObject({ verdict: "pass", source: "NEC 240.4(D)" });
  expect(on("8", "40 A")).toMatchObject({ verdict: "pass", source: "NEC Table 310.16" });
  expect(on("8", "45 A").note).toMatch(
    /nothing but a motor may NEC 430.52 allow more. An electrician decides/,
  );
});

test("more than 3 % of the voltage lost along the run is a caution (NEC 210.19(A), informational note)", () => {
  // 2 × 11.2 A × 3.14 Ω/kft: 3 % of 115 V are lost over 49.05 ft.
  expect(lineOf(supply("run_length: 30 ft", "run_length: 49 ft"), "voltage drop").verdict).toBe("pass");
  const line = lineOf(supply("run_length: 30 ft", "run_length: 49.1 ft"), "voltage drop");
  expect(line).toMatchObject({ verdict: "caution" });
  expect(line.note).toMatch(/An electrician decides/);
});

test("an overload device is set to 115 % of the nameplate, or 125 % with a service factor of 1.15 (NEC 430.32)", () => {
  expect(lineOf(supply("overload: 10 A", "overload: 11.2 A"), "overload setting").verdict).toBe("pass");
  expect(lineOf(supply("overload: 10 A", "overload: 11.3 A"), "overload setting").verdict).toBe("fail");
  const motor = but(known.motor, "service_factor: 1 ", "service_factor: 1.15 ");
  expect(lineOf(knownBut({ motor }), "overload setting").limit?.value).toBeCloseTo(12.25, 9);
});

test("a protector built into the motor lets 156 % of 9.8 A pass at most (NEC 430.32(A)(2))", () => {
  const line = lineOf(supply("overload: 10 A", "overload: built in"), "overload setting");
  expect(line).toMatchObject({ verdict: "pass", value: { text: "built in" } });
  expect(line.limit?.value).toBeCloseTo(15.288, 9);
});
