import type { FleetView, ReadingView, UnitView } from "../collector/fleet-view.ts";
import { displayed } from "../fleet/display.ts";

/** A number changes where its reading has left the one shown by this share of its last digit; half would be plain rounding. */
const leaves = 0.75;

/**
 * The view with its readings as they are to be shown: a number whose last digit would only flicker stays as it was,
 * so that a quiet screen stays still. `before` is what was shown last, null at first. A unit whose log has not grown
 * is the same object again.
 */
export function steadied(before: FleetView | null, view: FleetView): FleetView {
  if (before === null || before.units === view.units) return view;
  const shown = new Map(before.units.map((unit) => [unit.id, unit]));
  const units = view.units.map((unit) => steadiedUnit(shown.get(unit.id), unit, view.display));
  return { ...view, units };
}

function steadiedUnit(before: UnitView | undefined, unit: UnitView, display: FleetView["display"]): UnitView {
  if (before === undefined || before.readings.length !== unit.readings.length) return unit;
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
  const now = displayed(channel, value, display);
  const moved = Math.abs(now.value - rounded(channel, before.value, display));
  return moved < leaves * 0.1 ** now.decimals ? { ...reading, value: before.value } : reading;
}

function rounded(channel: ReadingView["channel"], value: number, display: FleetView["display"]): number {
  const shown = displayed(channel, value, display);
  return Number(shown.value.toFixed(shown.decimals));
}

/** A limit that is passed shows at once. */
function pastLimit({ value, limitLow, limitHigh }: ReadingView): boolean {
  if (value === null) return false;
  return (limitLow !== null && value < limitLow) || (limitHigh !== null && value > limitHigh);
}
