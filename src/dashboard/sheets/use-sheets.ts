import { useEffect, useMemo, useRef, useState } from "react";
import type { FleetView } from "../../collector/fleet-view.ts";
import { minute } from "../../terms/time.ts";
import type { Command } from "../keys.ts";
import type { Line } from "../line.ts";
import type { Place } from "../navigation.ts";
import type { FleetSource } from "../source.ts";
import { dataSheet } from "./data-sheet.ts";
import { historySheet } from "./history-sheet.ts";
import { serviceSheet } from "./service-sheet.ts";
import type { Sheet } from "./sheet.ts";
import { laidOut, type SheetLayout, topFor } from "./sheet-layout.ts";
import { firstSheetPlace, movedInSheet, type SheetPlace, sheetAsked } from "./sheet-place.ts";
import { sheetHeight, sheetScreen } from "./sheet-screen.ts";
import { standingSheet } from "./standing-sheet.ts";
import { useAlarmHistory } from "./use-alarm-history.ts";

/** So many items from the end of what is at hand, more is asked for. */
const moreWithin = 60;

/** Longer rows tire the eye. */
const widestText = 140;

const none: SheetLayout = { rows: [], places: [], hidden: 0 };

export interface Sheets {
  /** The list's screen; null where none is looked at. */
  readonly lines: readonly Line[] | null;
  /** The unit of the chosen item. */
  readonly unit: string | null;
  /** Answers whether a command was for a list. */
  take(command: Command): boolean;
}

/** The fleet's lists. `go` moves about on the screens below them. */
export function useSheets(
  source: FleetSource,
  view: FleetView,
  filter: string,
  below: Place,
  go: (to: (from: Place) => Place) => void,
  silentMs: number,
  width: number,
  height: number,
): Sheets {
  const [place, setPlace] = useState<SheetPlace | null>(null);
  /** Several keys may come before anything is drawn. */
  const latest = useRef(place);
  const isSeen = place !== null && !place.covered;
  const replayed = view.replay === undefined ? null : Math.floor(view.clockMs / minute);
  const past = useAlarmHistory(
    source,
    place?.kind === "history" ? { period: place.period, back: place.back, filter, minute: replayed } : null,
    (place?.chosen ?? 0) > 0,
  );
  const { entries, more, sinceMs, untilMs, problem, isReading } = past;
  const kind = place?.kind ?? null;
  const period = place?.period ?? 0;
  const chosenEntry = kind === "history" ? (place?.chosen ?? 0) : 0;
  const textWidth = Math.min(width, widestText);
  const sheet = useMemo((): Sheet | null => {
    if (!isSeen) return null;
    if (kind === "standing") return standingSheet(view, textWidth);
    if (kind === "service") return serviceSheet(view, textWidth);
    if (kind === "data") return dataSheet(view, textWidth);
    return historySheet(
      { entries, more, sinceMs, untilMs, problem, isReading },
      chosenEntry,
      period,
      view,
      textWidth,
    );
  }, [
    isSeen,
    kind,
    view,
    textWidth,
    entries,
    more,
    sinceMs,
    untilMs,
    problem,
    isReading,
    chosenEntry,
    period,
  ]);
  const layout = useMemo(() => {
    if (sheet === null) return none;
    const sites = new Map(view.units.map(({ id, site }) => [id, site ?? ""]));
    // The history has been filtered where it was read.
    return laidOut(sheet, kind === "history" ? "" : filter, (unit) => sites.get(unit) ?? "", width);
  }, [sheet, view, kind, filter, width]);

  const { wantMore } = past;
  const nearEnd = kind === "history" && chosenEntry > layout.places.length - moreWithin;
  useEffect(() => {
    if (nearEnd) wantMore();
  });

  const room = sheetHeight(kind ?? "standing", filter, view, silentMs, height);
  const set = (to: SheetPlace | null): true => {
    latest.current = to;
    setPlace(to);
    return true;
  };
  const chosenIn = (from: SheetPlace): number => Math.min(from.chosen, layout.places.length - 1);

  const leave = (from: SheetPlace): true => {
    go((place) => ({ ...place, ...from.from }));
    return set(null);
  };

  const take = (command: Command): boolean => {
    const from = latest.current;
    const asked = sheetAsked(command);
    if (asked !== undefined) {
      if (asked === "history" && source.alarmHistory === undefined) return true;
      if (from !== null && !from.covered && from.kind === asked) return true;
      const { screen, unit, unitTop } = below;
      const back = from === null || from.covered ? { screen, unit, unitTop } : from.from;
      return set(firstSheetPlace(asked, back));
    }
    if (from === null) return false;
    if (from.covered) {
      if (command === "round") set(null);
      if (command !== "back") return false;
      go((place) => ({ ...place, ...from.from }));
      return set({ ...from, covered: false });
    }
    if (command === "back") return leave(from);
    if (command === "round") {
      set(null);
      return false;
    }
    if (command === "open") {
      const unit = layout.places[chosenIn(from)]?.unit;
      if (unit === undefined || unit === null) return true;
      go((place) => ({ ...place, screen: "unit", unit, unitTop: 0 }));
      return set({ ...from, covered: true });
    }
    const to = movedInSheet(
      { ...from, chosen: Math.max(0, chosenIn(from)) },
      command,
      layout.places.length,
      room,
    );
    return to !== undefined && set({ ...to, top: topFor(layout, to.chosen, to.top, room) });
  };

  const chosen = place === null ? -1 : chosenIn(place);
  return {
    lines:
      place === null || sheet === null || place.covered
        ? null
        : sheetScreen(sheet, layout, { ...place, chosen }, filter, view, silentMs, width, height),
    unit: isSeen ? (layout.places[chosen]?.unit ?? null) : null,
    take,
  };
}
