import type { Display } from "../fleet/display.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { toStored } from "../fleet/units.ts";
import type { Visit } from "../fleet/visit.ts";
import { visible } from "../terms/text.ts";
import { gaugeText, gaugeTexts } from "./gauge-words.ts";

/** Visits told of one work, in order; a record that begins it anew or takes it back tells of none that is its. */
export function visitsOf(records: readonly ServiceRecord[]): readonly Visit[] {
  return records
    .filter((record, place) => place === 0 || record.step === "end")
    .flatMap(({ visit }) => visit ?? []);
}

/** What was found, done and used on a visit, a phrase each, in the units of `display`. */
export function visitFacts(visit: Visit, display: Display): string[] {
  return [...visitFindings(visit, display), ...listed("photos", visit.photos)];
}

/** As `visitFacts`, without where the photos lie. */
export function visitFindings(visit: Visit, display: Display): string[] {
  const { skid, groundFault, parts, used } = visit;
  const read = [...handTexts(visit, display), ...gaugeTexts(visit, display)];
  return [
    ...(skid === undefined
      ? []
      : [`skid ${visible(skid.to)} came${skid.from ? `, ${visible(skid.from)} went` : ""}`]),
    ...(read.length === 0 ? [] : [read.join(", ")]),
    ...(groundFault === undefined ? [] : [`ground-fault test: the device ${groundFault}`]),
    ...listed("parts", parts),
    ...listed("used", used),
  ];
}

function listed(what: string, items: readonly string[] | undefined): string[] {
  return items === undefined ? [] : [`${what}: ${items.map(visible).join(", ")}`];
}

/** What was measured by hand at the pond, a phrase each. */
export function handTexts(visit: Visit, display: Display): string[] {
  const { dissolvedOxygenMgL, secchiM, waterTemperatureC } = visit.readings ?? {};
  const feet = toStored("ft", "m")?.factor ?? Number.NaN;
  const depth = (m: number): string =>
    display === "us" ? `${(m / feet).toFixed(1)} ft` : `${m.toFixed(2)} m`;
  return [
    ...(dissolvedOxygenMgL === undefined ? [] : [`dissolved oxygen ${dissolvedOxygenMgL.toFixed(1)} mg/L`]),
    ...(secchiM === undefined ? [] : [`Secchi depth ${depth(secchiM)}`]),
    ...(waterTemperatureC === undefined
      ? []
      : [gaugeText("water_temperature", waterTemperatureC, visit, display, "water")]),
  ];
}
