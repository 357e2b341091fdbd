import type { FleetView, ReadingView, UnitView } from "../collector/fleet-view.ts";
import { indicator } from "./indicator.ts";
import { blank, type Line, line, span } from "./line.ts";
import { isMeasured, readingText, standing } from "./reading-text.ts";
import { paragraph, type Section } from "./section.ts";
import { padEnd, padStart } from "./width.ts";
import { channelWords } from "./words.ts";

const nameWidth = 19;
const sideWidth = 4;
const bandWidth = 15;

/** Each reading against its baseline and limits. */
export function readingSection(unit: UnitView, view: FleetView, width: number): Section {
  const numbers = unit.readings.map((reading) => readingText(reading.channel, reading.value, view.display));
  const numberWidth = Math.max(5, ...numbers.map((text) => text.number.length));
  const unitWidth = Math.max(2, ...numbers.map((text) => text.unit.length));
  const before = 3 + nameWidth + numberWidth + 1 + unitWidth + 1 + sideWidth + 1;
  const scaleWidth = Math.max(9, Math.min(31, width - before - 2 - 2 * bandWidth));
  const lines = unit.readings.map((reading, index): Line => {
    const text = numbers[index] ?? { number: "", unit: "" };
    const outside = standing(reading) === "past limit" || standing(reading) === "outside";
    const name = [span(`   ${padEnd(nameOf(reading, unit), nameWidth)}`)];
    const value = span(padStart(text.number, numberWidth), outside ? "strong" : "plain");
    if (!isMeasured(reading)) return [...name, value];
    return [
      ...name,
      value,
      span(` ${padEnd(text.unit, unitWidth)} ${padEnd(side(reading), sideWidth)} `),
      ...indicator(reading, scaleWidth),
      span(`  ${padEnd(normalBand(reading, view.display), bandWidth)}${limits(reading, view.display)}`),
    ];
  });
  const heading: Line = [blank(before + scaleWidth + 2), span(`${padEnd("normal", bandWidth)}limits`, "dim")];
  const note = unit.baselineNote === null ? [] : paragraph("   ", unit.baselineNote, width);
  return {
    title: baselineTitle(unit),
    lines: [...note, ...(lines.length > 0 ? [heading, ...lines] : [line("   none yet")])],
  };
}

function baselineTitle(unit: UnitView): string {
  if (unit.baseline === "confirmed") return "Readings against the confirmed baseline";
  if (unit.baseline === "provisional")
    return "Readings against a provisional baseline (nobody has confirmed it)";
  if (unit.catchingUp) return "Newest readings (the baseline is not known yet)";
  return "Readings (no baseline: none before the first steady running)";
}

function nameOf(reading: ReadingView, unit: UnitView): string {
  const several = unit.readings.some((other) => other.channel === reading.channel && other.part > 0);
  return several ? `${channelWords[reading.channel]} ${reading.part + 1}` : channelWords[reading.channel];
}

/** On which side of its normal band, or of a limit, a reading lies. */
function side(reading: ReadingView): string {
  const { value, normal, limitLow, limitHigh } = reading;
  if (value === null) return "";
  const low = normal?.low ?? limitLow;
  const high = normal?.high ?? limitHigh;
  if (low !== null && value < low) return "low";
  return high !== null && value > high ? "high" : "";
}

function normalBand(reading: ReadingView, system: "si" | "us"): string {
  const { normal } = reading;
  if (normal === null) return "–";
  return `${number(reading, normal.low, system)} to ${number(reading, normal.high, system)}`;
}

function limits(reading: ReadingView, system: "si" | "us"): string {
  const { limitLow, limitHigh } = reading;
  if (limitLow !== null && limitHigh !== null)
    return `${number(reading, limitLow, system)} to ${number(reading, limitHigh, system)}`;
  if (limitLow !== null) return `from ${number(reading, limitLow, system)}`;
  return limitHigh === null ? "–" : `up to ${number(reading, limitHigh, system)}`;
}

function number(reading: ReadingView, value: number, system: "si" | "us"): string {
  return readingText(reading.channel, value, system).number;
}
