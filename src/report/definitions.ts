import { alarmWords } from "../dashboard/words.ts";
import { downAlarms, leastKnown } from "./availability.ts";
import { html, type Markup } from "./html.ts";

const downWords = downAlarms.map((alarm) => alarmWords(alarm).toLowerCase()).join(", ");

/** What each figure of a report means: the term, then its definition. */
export const definitions: readonly (readonly [string, string])[] = [
  [
    "Readings",
    "What the units' loggers wrote. They are kept as least, mean and most: by the minute for 3 days, ten minutes for 30 days, the hour for 400 days; each figure rests on the finest that is left. A stretch in which a gauge read what it cannot, as with a broken line, counts as covered, and its values are left out.",
  ],
  [
    "Data coverage",
    "Share of the period's time that lies in such a stretch with at least one reading. So a short gap within an hour that is kept as one does not show.",
  ],
  [
    "Required time",
    "The time in which the unit was meant to run: its season and its daily windows as the fleet file has them, without planned stops. Where no windows are written, all of the season.",
  ],
  [
    "Availability",
    `Up time divided by up time and down time, within required time (operational availability in the sense of IEC 60050-192 and EN 13306). Time of which nothing is known counts in neither; the range says what the figure would be if all of it had been down, or up. No figure is told where less than ${100 * leastKnown} % of the required time is known: then the page says how much is.`,
  ],
  [
    "Down time",
    `By fault: from when the condition of one of these alarms held until it was back to normal, as far as there were readings: ${downWords}. In service: while work was begun and the motor was not seen to run throughout. What began in service is counted there, as a motor that was unplugged for it. Both count against availability.`,
  ],
  [
    "Up time",
    "Required time with readings that is not down time, whether the motor ran just then or waited.",
  ],
  [
    "Unknown time",
    "Required time without readings that was not in service: what stood when they ended may have been put right, or not.",
  ],
  [
    "Run hours",
    "By the motor's current, else its power, else its run command. In a stretch in which the motor started or stopped, its share is estimated from the mean; the range says between what the hours surely lie. Hours without readings are not in it.",
  ],
  [
    "Ozone hours",
    "Hours in which the ozone cell's status was on, by the share of readings. Stretches with a fault are told apart. The status is what the cell reports; it is no measure of ozone produced or dissolved. What was on while the motor stood, longer than the motor ran, or while nothing told whether it ran is remarked at its unit from a quarter of an hour on.",
  ],
  [
    "Plots",
    "The line is the mean of each stretch, the band around it goes from the least to the most reading, and the dashed line is the baseline. A break is time without readings. An axis need not begin at zero; it spans at least a fifth of the largest reading, so that noise does not look like change.",
  ],
  [
    "Drift",
    "The median of a reading while the motor ran, in the first and in the last part of the period: a quarter of it, a week at most. The baseline is the unit's own clean running.",
  ],
  [
    "Alarms",
    "Times that people were told; planned work, and what was shelved, suppressed or out of service, is not counted. Stood for: how long its conditions held within the period.",
  ],
  [
    "Time to acknowledge",
    "The median from when people were told to when somebody acknowledged, of those that were; nine of ten within: the time within which nine of ten of those were.",
  ],
];

export function definitionsMarkup(): Markup {
  return html`<dl>
${definitions.map(
  ([term, meaning]) => html`<dt>${term}</dt><dd>${meaning}</dd>
`,
)}</dl>
`;
}
