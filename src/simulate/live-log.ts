import { appendFileSync, existsSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { demoFormats } from "./demo-formats.ts";
import type { DemoUnit } from "./demo-unit.ts";
import { headerLine, lineWriter } from "./log-format.ts";
import { recordedEndMs, recordedFromMs } from "./recorded-day.ts";
import { deliveryMs, deliveryPath, packedText } from "./samples.ts";
import type { Sample } from "./sensors.ts";

/** Where a unit's new readings go. */
export interface LiveLog {
  /** Writes readings in order of time; `nextMs` is when the next is due. */
  write(samples: readonly Sample[], nextMs: number): void;
}

/**
 * The log of a staged demo unit, to be continued: its growing file, a new one beside its packed one, or a
 * further delivery each half hour. Times are moved by `shiftMs` on their way.
 */
export function openLiveLog(unit: DemoUnit, fleetFolder: string, shiftMs: number): LiveLog {
  const logs = join(fleetFolder, "logs");
  const format = demoFormats[unit.format];
  const line = lineWriter(format, shiftMs);
  if (unit.kept === "delivered") {
    return deliveringLog(logs, unit.id, (samples) => headerLine(format) + samples.map(line).join(""));
  }
  const path = join(logs, unit.kept === "plain" ? `${unit.id}.csv` : `${unit.id}-new.csv`);
  return {
    write(samples) {
      if (samples.length === 0) return;
      const header = existsSync(path) ? "" : headerLine(format);
      appendFileSync(path, header + samples.map(line).join(""));
    },
  };
}

/** Each delivery appears whole: it is written under another name and then renamed. */
function deliveringLog(logs: string, id: string, text: (samples: readonly Sample[]) => string): LiveLog {
  let waiting: Sample[] = [];
  let number = Math.round((recordedEndMs - recordedFromMs) / deliveryMs) + 1;
  return {
    write(samples, nextMs) {
      waiting.push(...samples);
      while (nextMs >= recordedFromMs + number * deliveryMs) {
        const untilMs = recordedFromMs + number * deliveryMs;
        const part = waiting.filter((sample) => sample.timeMs < untilMs);
        waiting = waiting.filter((sample) => sample.timeMs >= untilMs);
        const path = join(logs, deliveryPath(id, number));
        if (part.length > 0) {
          writeFileSync(`${path}.part`, packedText(text(part), 6));
          renameSync(`${path}.part`, path);
        }
        number += 1;
      }
    },
  };
}
