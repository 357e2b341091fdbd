import type { FleetView, ReadingView, UnitView } from "../collector/fleet-view.ts";
import { displayed, rowDecimals } from "../fleet/display.ts";

/** A number changes where its reading has left the one shown by this share of its last digit; half would be plain rounding. */
const leaves = 0.75;

/**
 * The view with the readings of quiet units as their rows are to show them: a number whose last digit would only
 * flicker stays as it was, so that a quiet screen stays still. `before` is what was shown last, null at first. What
 * somebody is to look at closely, a unit with an alarm, is as it is read.
 */
export function steadied(before: FleetView | null, view: FleetView): FleetView {
  if (before === null) return view;
  const shown = new Map(before.units.map((unit) => [unit.id, unit]));
  return { ...view, units: view.units.map((unit) => steadiedUnit(shown.get(unit.id), unit, view.display)) };
}

function steadiedUnit(before: UnitView | undefined, unit: UnitView, display: FleetView["display"]): UnitView {
  const isQuiet = unit.alarms.length === 0 && before?.alarms.length === 0;
  if (!isQuiet || before.readings.length !== unit.readings.length) return unit;
  const readings = unit.readings.map((reading, place) =>
    steadiedReading(before.readings[place], reading, display),
  );
  return { ...unit, readings };
}

function steadiedReading(
  before: ReadingView | undefined,
  reading: ReadingView,
  display: FleetView["display"],
): ReadingView {
  const { channel, part, value } = reading;
  if (before?.channel !== channel || before.part !== part) return reading;
  if (value === null || before.value === null || pastLimit(reading) !== pastLimit(before)) return reading;
  const decimals = rowDecimals(channel, display);
  const shown = Number(displayed(channel, before.value, display).value.toFixed(decimals));
  const moved = Math.abs(displayed(channel, value, display).value - shown);
  return moved < leaves / 10 ** decimals ? { ...reading, value: before.value } : reading;
}

/** A limit that is passed shows at once. */
function pastLimit({ value, limitLow, limitHigh }: ReadingView): boolean {
  if (value === null) return false;
  return (limitLow !== null && value < limitLow) || (limitHigh !== null && value > limitHigh);
}
