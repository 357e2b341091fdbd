import { describe, expect, it } from "vitest";
import { settle, startLife } from "../../src/assess/life.ts";
import type { Finding } from "../../src/terms/events.ts";

describe("an alarm that becomes more urgent", () => {
  const life = startLife("gas-pressure-drift", "prompt");
  const settled = (timeMs: number): string[] => {
    const findings: Finding[] = [];
    settle([life], false, timeMs, () => timeMs, findings);
    return findings.map(({ event, priority }) => `${event} ${priority}`);
  };

  it("says so once, and starts anew from its own priority after it was off", () => {
    life.phase = "on";
    expect(settled(1)).toEqual(["raised prompt"]);
    life.ownPriority = "low";
    expect(settled(2)).toEqual(["priority-changed low"]);
    expect(settled(3)).toEqual([]);
    life.phase = "off";
    expect(settled(4)).toEqual(["cleared low"]);
    life.ownPriority = "prompt";
    expect(settled(5)).toEqual([]);
    life.phase = "on";
    expect(settled(6)).toEqual(["raised prompt"]);
  });
});
