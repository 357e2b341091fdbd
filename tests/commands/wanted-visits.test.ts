import { expect, test } from "vitest";
import type { UnitView } from "../../src/collector/fleet-view.ts";
import { wantedSites } from "../../src/commands/wanted-visits.ts";
import { alarm, fleetView, nightMs, unit } from "../dashboard/fixture.ts";
import { fleetFile } from "../support/fleets.ts";
import { fleetOf } from "../support/played.ts";

const wanted = (view: UnitView) => {
  const fleet = fleetOf(fleetFile([`{ id: ${view.id} }`]), "/fleet");
  const due = { unit: fleet.units[0], view, records: [], bookings: [], season: null };
  const read = { fleet, nowMs: nightMs, view: fleetView(0, { units: [view] }), units: [due] };
  return wantedSites(read, nightMs, nightMs, true).flatMap(({ units }) =>
    units.map(({ pressing }) => pressing),
  );
};

test("nobody drives to what is back to normal; to an active alarm, and to a ground-fault device that did not trip", () => {
  const back = alarm({ priority: "medium", state: "returned-unacknowledged" });
  expect(wanted(unit("LM-01", { alarms: [back] }))).toEqual([]);
  expect(wanted(unit("LM-01", { alarms: [back, alarm({ priority: "low" })] }))).toEqual(["due"]);
  const found = { noTrip: { atMs: nightMs } };
  expect(wanted(unit("LM-01", { alarms: [back], found }))).toEqual(["now"]);
});
