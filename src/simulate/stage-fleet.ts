import { isScalar, isSeq, parseDocument, visit } from "yaml";
import { localClock } from "../fleet/local-clock.ts";
import { parseWindow } from "../fleet/schedule-schema.ts";
import { day, iso, minute } from "../terms/time.ts";

const instant = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/;
const season = /^(\d\d)-(\d\d)\.\.(\d\d)-(\d\d)$/;

/**
 * A fleet file whose every time is moved by `shiftMs`: absolute times, and the daily windows and seasons
 * of the wall clock, so that a unit goes on running and resting with its logs. Comments stay.
 */
export function moveFleetTimes(text: string, shiftMs: number, recordedEndMs: number): string {
  const document = parseDocument(text);
  const timezone = String(document.get("timezone") ?? "UTC");
  const local = localClock(timezone);
  const wallShiftMs = local(recordedEndMs + shiftMs) - local(recordedEndMs);
  visit(document, {
    Scalar(_, node) {
      if (typeof node.value === "string" && instant.test(node.value)) {
        node.value = iso(Date.parse(node.value) + shiftMs).replace(".000Z", "Z");
      }
    },
    Pair(_, pair) {
      if (!isScalar(pair.key)) return;
      if (pair.key.value === "runs" && isSeq(pair.value)) {
        for (const item of pair.value.items) {
          if (isScalar(item)) item.value = movedWindow(String(item.value), wallShiftMs);
        }
      }
      if (pair.key.value === "season" && isScalar(pair.value)) {
        pair.value.value = movedSeason(String(pair.value.value), wallShiftMs, recordedEndMs);
      }
    },
  });
  return document.toString({ lineWidth: 0 });
}

function movedWindow(text: string, shiftMs: number): string {
  const window = parseWindow(text);
  if (window === undefined) return text;
  const move = (minutes: number) => {
    const moved = (((minutes + Math.round(shiftMs / minute)) % 1440) + 1440) % 1440;
    const part = (x: number) => String(x).padStart(2, "0");
    return `${part(Math.floor(moved / 60))}:${part(moved % 60)}`;
  };
  return `${move(window.from)}-${move(window.to)}`;
}

function movedSeason(text: string, shiftMs: number, recordedEndMs: number): string {
  const year = new Date(recordedEndMs).getUTCFullYear();
  const move = (month: number, date: number) => {
    const moved = Date.UTC(year, month - 1, date) + Math.round(shiftMs / day) * day;
    return iso(moved).slice(5, 10);
  };
  return text.replace(
    season,
    (_, fromMonth, fromDay, toMonth, toDay) =>
      `${move(Number(fromMonth), Number(fromDay))}..${move(Number(toMonth), Number(toDay))}`,
  );
}
