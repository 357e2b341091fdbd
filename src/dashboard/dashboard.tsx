import { type SuspendTerminal, useApp, useInput, usePaste, useWindowSize } from "ink";
import { type ReactElement, useEffect, useMemo, useState } from "react";
import { topWithCharts } from "./chart-place.ts";
import { fleetHeadHeight, fleetScreen, listHeight } from "./fleet-screen.ts";
import { nowLines } from "./head.ts";
import { helpLines } from "./help.ts";
import { helpHeight, helpScreen } from "./help-screen.ts";
import { type Command, commandsOf, type ReplayCommand } from "./keys.ts";
import { emptyLine, type Line, line } from "./line.ts";
import { chosenIndex, firstPlace, moved, type Surroundings } from "./navigation.ts";
import { mostPinned } from "./pinned-axis.ts";
import { filtered, roundLayout } from "./round/round-layout.ts";
import { useRound } from "./round/use-round.ts";
import { Rows } from "./rows.tsx";
import { useSaying } from "./saying/use-saying.ts";
import { useSheets } from "./sheets/use-sheets.ts";
import type { FleetSource } from "./source.ts";
import type { Theme } from "./theme.ts";
import { chartColumns, unitLayout, unitScreen, waitingInSight } from "./unit-screen.ts";
import { useFleetView } from "./use-fleet-view.ts";
import { usePast } from "./use-past.ts";
import { usePerformanceScreen } from "./use-performance-screen.ts";
import { useSilence } from "./use-silence.ts";
import { useSteady } from "./use-steady.ts";
import { useTimeEntry } from "./use-time-entry.ts";

const leastWidth = 60;
const leastHeight = 15;
/** Where a screen is read out nothing stands beside anything else. */
const widestLinear = 120;

export interface DashboardProps {
  readonly source: FleetSource;
  readonly theme: Theme;
  /** Who sits here, for what is said from this screen. */
  readonly by?: string;
  /** The screen is read out: words alone, and drawn anew only where it matters. */
  readonly linear?: boolean;
  /** `q` or Ctrl-C was pressed. */
  readonly onEnd: (how: "quit" | "SIGINT") => void;
  /** Ctrl-Z was pressed. */
  readonly onSetAside: () => void;
  /** The screen is to be drawn anew from nothing. */
  readonly onRedraw: () => void;
  /** Called once with the way to hand the terminal over. */
  readonly onTerminal?: (suspend: SuspendTerminal) => void;
}

/** The whole dashboard: keys in, rows out. */
export function Dashboard({
  source,
  theme,
  by = "",
  linear = false,
  onEnd,
  onSetAside,
  onRedraw,
  onTerminal,
}: DashboardProps): ReactElement {
  const { suspendTerminal } = useApp();
  useEffect(() => onTerminal?.(suspendTerminal), [onTerminal, suspendTerminal]);
  const { columns, rows: height } = useWindowSize();
  const width = linear ? Math.min(columns, widestLinear) : columns;
  const view = useFleetView(source, linear);
  const silentMs = useSilence(source, view);
  const [place, setPlace] = useState(firstPlace);
  const round = useRound();
  const { order, filter } = round;
  const steady = useSteady(view);
  const fleet = useMemo(
    () => roundLayout(filtered(steady, filter), order, width, linear),
    [steady, filter, order, width, linear],
  );
  const inRound = fleet.items[chosenIndex(fleet.items, place.unit)]?.unit ?? null;
  // A unit that is looked at stays, whether or not the filter still leaves it.
  const isThere = view.units.some(({ id }) => id === place.unit);
  const opened = isThere ? place.unit : inRound;
  const unitId = place.screen === "unit" ? opened : null;
  const strip = chartColumns(width);
  const points = strip * (theme.unicode ? 2 : 1);
  const { past, take: takeInCharts } = usePast(source, unitId, view.clockMs, points, strip);
  const unit = useMemo(() => {
    const shown = view.units.find((each) => each.id === unitId);
    if (shown === undefined) return null;
    return unitLayout(shown, view, past, silentMs, theme.unicode, width, height);
  }, [view, unitId, past, silentMs, theme, width, height]);
  const help = useMemo(() => helpLines(view, width), [view, width]);

  const around: Surroundings = {
    items: fleet.items,
    columns: fleet.columns,
    fleetRows: fleet.rows.length,
    fleetHeight: listHeight(fleetHeadHeight(view, round, silentMs), height),
    unitRows: unit?.lines.length ?? 0,
    unitHeight: Math.max(1, height - (unit?.head.length ?? 0) - 2),
    unitPinned: unit === null || unit.chartRows === null ? 0 : mostPinned,
    parts: unit?.parts ?? [],
    helpRows: help.length,
    helpHeight: helpHeight(view, silentMs, height),
  };
  const entry = useTimeEntry(view.clockMs, view.timezone, (timeMs) =>
    source.replay?.({ ask: "go to", timeMs }),
  );
  const performance = usePerformanceScreen(source, view, silentMs, width, height);
  const sheets = useSheets(source, view, filter, place, setPlace, silentMs, width, height);
  const hasRoom = width >= leastWidth && height >= leastHeight;
  const chosen = sheets.lines === null ? (unitId ?? inRound) : sheets.unit;
  const saying = useSaying(source, view, by, chosen, hasRoom);
  /** Whoever says something of a unit has chosen it: it stays so when a worse one comes above it. */
  const sayOfChosen = (): void => {
    setPlace((from) => ({ ...from, unit: chosen }));
    saying.open();
  };
  const replay = (ask: Exclude<ReplayCommand, "go to">) => () => source.replay?.({ ask, unit: unitId });
  const outer: Partial<Record<Command, () => void>> = {
    "play or pause": replay("play or pause"),
    step: replay("step"),
    faster: replay("faster"),
    slower: replay("slower"),
    "next alarm": replay("next alarm"),
    "last alarm": replay("last alarm"),
    beginning: replay("beginning"),
    "go to": entry.open,
    ...(unitId === null && !place.explaining && { order: round.nextOrder }),
    ...((unitId === null || sheets.lines !== null) && !place.explaining && { filter: round.open }),
    ...(hasRoom && !place.explaining && { say: sayOfChosen, undo: saying.undo }),
    ...(hasRoom &&
      !place.explaining &&
      unit !== null && {
        acknowledge: () => {
          // What is told takes the place of the last rows, of which two are the foot.
          const covered = Math.max(0, saying.rows(width, height).length - 2);
          saying.acknowledge(waitingInSight(unit, place.unitTop, around.unitHeight - covered));
        },
      }),
    quit: () => onEnd("quit"),
    interrupt: () => onEnd("SIGINT"),
    "set aside": onSetAside,
    redraw: onRedraw,
  };
  useInput((input, key) => {
    if (saying.take(input, key)) return;
    // Keys that came faster than they were read may stand in one piece of input.
    for (const character of input === "" ? [""] : input) {
      if (entry.take(character, key) || round.take(character, key)) continue;
      for (const command of commandsOf(character, key, source.replay !== undefined)) {
        if (!place.explaining && (performance.take(command) || showsAll(command) || sheets.take(command)))
          continue;
        const inUnit = performance.lines === null && sheets.lines === null;
        if (!place.explaining && inUnit && takeInCharts(command)) {
          showCharts();
          continue;
        }
        const act = outer[command];
        if (act === undefined) setPlace((from) => moved(from, command, around));
        else act();
      }
    }
  });

  usePaste((text) => {
    if (!entry.paste(text) && !round.paste(text)) saying.paste(text);
  });

  /** Esc undoes the filter before it leaves what is filtered. */
  function showsAll(command: Command): boolean {
    const isFiltered = filter !== "" && (sheets.lines !== null || unitId === null);
    if (command !== "back" || !isFiltered) return false;
    round.clear();
    return true;
  }

  const rows = screen();
  const typed = entry.row ?? round.row;
  const last = typed === null ? saying.rows(width, height) : [typed];
  const shown = hasRoom ? [...rows.slice(0, rows.length - last.length), ...last] : rows;
  return <Rows lines={shown} width={width} theme={theme} linear={linear} />;

  function showCharts(): void {
    const rows = unit?.chartRows ?? null;
    if (rows === null) return;
    setPlace((from) => ({ ...from, unitTop: topWithCharts(from.unitTop, around.unitHeight, rows) }));
  }

  function screen(): readonly Line[] {
    if (!hasRoom) return tooSmall();
    if (place.explaining) return helpScreen(help, view, place.helpTop, silentMs, width, height);
    if (performance.lines !== null) return performance.lines;
    if (sheets.lines !== null) return sheets.lines;
    if (unit !== null) return unitScreen(unit, view, place.unitTop, width, height);
    return fleetScreen(view, fleet, round, place.unit, place.fleetTop, silentMs, width, height);
  }

  function tooSmall(): readonly Line[] {
    const lines = [
      line(`needs at least ${leastWidth}×${leastHeight}, has ${width}×${height}`),
      line("make the window larger, or q quits"),
      ...nowLines(view, width),
    ];
    // A frame of fewer rows than the window has would stand wherever the cursor was.
    return Array.from({ length: Math.max(1, height) }, (_, row) => lines[row] ?? emptyLine);
  }
}
