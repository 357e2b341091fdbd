import { expect, test } from "vitest";
import { guidance } from "../../src/advise/guidance.ts";
import { needingNow } from "../../src/dashboard/needing.ts";
import { alarmNames } from "../../src/terms/alarms.ts";
import { unitOf } from "../support/unit-days.ts";
import { drawn } from "./draw.ts";
import { alarm, fleetView, unit } from "./fixture.ts";

test.each(alarmNames)(
  "at 80 columns what to do first about %s is read whole, without opening the unit",
  (name) => {
    const advice = guidance(name, "high", unitOf());
    const shown = unit("LM-03", { alarms: [alarm({ alarm: name, guidance: advice })] });
    const rows = drawn(needingNow(shown, fleetView(0, { units: [shown] }), 80));
    expect(rows.join(" ").replaceAll(/\s+/g, " ")).toContain(`do: ${advice.actions[0]}`);
  },
);
