import type { AlarmName } from "../terms/alarms.ts";
import type { Advice } from "./advice.ts";
import { cautions } from "./cautions.ts";

/** Readings that are missing, not to be believed, or not like those before. */
export const dataAdvice = {
  "sensor-fault": {
    damage: "the alarms that it names cannot be judged while it lasts",
    likelyCauses: [
      "a broken or loose wire, water in a connector, a failing logger input",
      "the gauge's line is blocked by scale, weed or ice",
      "its range, scale or unit in the fleet file is not that of the instrument",
    ],
    actions: [
      "Ask somebody on site to read the gauge itself and compare it with what the screen shows",
      "Until it is mended look on site at what the alarm says can no longer be seen",
      "Look at plug, cable and gauge line; compare `columns` in the fleet file with the instrument's plate",
    ],
    cautions: [cautions.silence, cautions.unplug, cautions.relieve],
  },
  "readings-stale": {
    likelyCauses: [
      "the logger, its supply or its link has stopped",
      "the delivery of log files is late or blocked",
      "no power at the site",
    ],
    actions: [
      "See whether other units of the same site are silent too: then look at power or the link",
      "Check when the log file last grew and whether the disk is full",
      "Treat the pump's state as unknown until readings come again; ask somebody on site to look",
    ],
    cautions: [cautions.silence, cautions.restart],
  },
  "clock-fault": {
    damage: "alarms may come late, or not at all, and times are not those of the site",
    likelyCauses: [
      "the logger's clock was set wrong, or its battery is empty",
      "it follows local time, and summer time or `timezone` in the fleet file does not fit",
      "two loggers write the same log; or this computer's own clock is wrong",
    ],
    actions: [
      "Compare the logger's clock with a right one, and this computer's too",
      "Let the logger write UTC or an offset, and keep its clock right by network, or set it at each visit",
      "Compare `timezone` in the fleet file with what the logger writes",
    ],
    cautions: [cautions.silence],
  },
  "unusual-running": {
    damage: "nobody knows yet: something has changed that no single alarm explains",
    likelyCauses: [
      "something worn or loose that has just begun to show: a bearing, a mount, a joint",
      "somebody changed a valve, a hose or a setting and did not record it",
      "weather, water or supply beyond what the baseline has seen; a sensor that drifts",
    ],
    actions: [
      "Look at the channels that the alarm names, in the charts, over the days before",
      "Ask who was there last what was changed; if it is to stay, let a new baseline be taken",
      "On site: listen, look and feel the enclosure for noise, shaking and heat, hands clear of all that turns",
    ],
    cautions: [cautions.silence, cautions.unplug, cautions.restart],
  },
} satisfies Partial<Record<AlarmName, Advice>>;
