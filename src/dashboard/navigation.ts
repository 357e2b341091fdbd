import type { FleetItem } from "./fleet-layout.ts";
import type { Command } from "./keys.ts";
import { clampTop, scrolledTo } from "./viewport.ts";

/** Where a person is on the screens. */
export interface Place {
  readonly screen: "fleet" | "unit";
  readonly explaining: boolean;
  /** Null: the worst unit, whichever that is. */
  readonly unit: string | null;
  readonly fleetTop: number;
  readonly unitTop: number;
  readonly helpTop: number;
}

export const firstPlace: Place = {
  screen: "fleet",
  explaining: false,
  unit: null,
  fleetTop: 0,
  unitTop: 0,
  helpTop: 0,
};

/** What the moves depend on: what is laid out now. */
export interface Surroundings {
  readonly items: readonly FleetItem[];
  readonly columns: number;
  readonly fleetRows: number;
  readonly fleetHeight: number;
  readonly unitRows: number;
  readonly unitHeight: number;
  /** Rows of these that may show what is scrolled past: a page leaves nothing out for them. */
  readonly unitPinned: number;
  /** First rows of the unit screen's parts. */
  readonly parts: readonly number[];
  readonly helpRows: number;
  readonly helpHeight: number;
}

/** The place after `command`. */
export function moved(place: Place, command: Command, around: Surroundings): Place {
  if (command === "explain") return { ...place, explaining: !place.explaining, helpTop: 0 };
  if (place.explaining) {
    if (command === "back" || command === "open") return { ...place, explaining: false };
    return { ...place, helpTop: scrolled(place.helpTop, command, around.helpHeight, around.helpRows) };
  }
  return place.screen === "fleet"
    ? movedInFleet(place, command, around)
    : movedInUnit(place, command, around);
}

/** Which item is chosen: the worst where nobody chose, or where the chosen unit is gone. */
export function chosenIndex(items: readonly FleetItem[], unit: string | null): number {
  return Math.max(
    0,
    items.findIndex((item) => item.unit === unit),
  );
}

function movedInFleet(place: Place, command: Command, around: Surroundings): Place {
  const { items } = around;
  const at = chosenIndex(items, place.unit);
  if (command === "open") {
    const unit = items[at]?.unit;
    return unit === undefined ? place : { ...place, screen: "unit", unit, unitTop: 0 };
  }
  if (command === "home") return { ...place, unit: null, fleetTop: 0 };
  const to = target(items, at, command, around);
  const item = items[to];
  if (item === undefined || to === at) return place;
  return {
    ...place,
    unit: item.unit,
    fleetTop: scrolledTo(place.fleetTop, around.fleetHeight, item.revealFrom, item.last, around.fleetRows),
  };
}

function target(items: readonly FleetItem[], at: number, command: Command, around: Surroundings): number {
  const item = items[at];
  if (item === undefined) return at;
  if (command === "end") return items.length - 1;
  if (command === "left") return Math.max(0, at - 1);
  if (command === "right") return Math.min(items.length - 1, at + 1);
  const rows =
    command === "up"
      ? -1
      : command === "down"
        ? 1
        : command === "page up"
          ? -around.fleetHeight
          : around.fleetHeight;
  if (command === "up" || command === "page up") return above(items, item, item.first + rows);
  if (command === "down" || command === "page down") return below(items, item, item.first + rows);
  return at;
}

/** The item of the same column in an earlier row: at `row` or after it, else the nearest above. */
function above(items: readonly FleetItem[], from: FleetItem, row: number): number {
  const earlier = items.filter((item) => item.first < from.first && sameColumn(item, from, items));
  const found = earlier.find((item) => item.last >= row) ?? earlier.at(-1) ?? from;
  return items.indexOf(found);
}

function below(items: readonly FleetItem[], from: FleetItem, row: number): number {
  const after = items.findIndex(
    (item) => item.first >= row && item.first > from.first && sameColumn(item, from, items),
  );
  if (after >= 0) return after;
  const last = items[items.length - 1];
  return last !== undefined && last.first > from.first ? items.length - 1 : items.indexOf(from);
}

/** Whether `item` is where a straight move from `from` lands in its row: the last one of a short row, too. */
function sameColumn(item: FleetItem, from: FleetItem, items: readonly FleetItem[]): boolean {
  if (item.cell === from.cell) return true;
  return (
    item.cell < from.cell && !items.some((other) => other.first === item.first && other.cell > item.cell)
  );
}

function movedInUnit(place: Place, command: Command, around: Surroundings): Place {
  const { items } = around;
  const at = chosenIndex(items, place.unit);
  switch (command) {
    case "back":
    case "round":
      return { ...place, screen: "fleet", fleetTop: revealed(place, around) };
    case "left":
    case "right": {
      const unit = items[Math.max(0, Math.min(items.length - 1, at + (command === "left" ? -1 : 1)))]?.unit;
      return unit === undefined || unit === place.unit ? place : { ...place, unit, unitTop: 0 };
    }
    case "next part": {
      const top = around.parts.find((row) => row > place.unitTop) ?? 0;
      const moved = clampTop(top, around.unitHeight, around.unitRows);
      return { ...place, unitTop: moved === place.unitTop ? 0 : moved };
    }
    default:
      return {
        ...place,
        unitTop: scrolled(
          place.unitTop,
          command,
          around.unitHeight,
          around.unitRows,
          around.unitHeight - around.unitPinned,
        ),
      };
  }
}

/** The fleet's first row such that the unit come back from is seen. */
function revealed(place: Place, around: Surroundings): number {
  const item = around.items[chosenIndex(around.items, place.unit)];
  if (item === undefined) return 0;
  return scrolledTo(place.fleetTop, around.fleetHeight, item.revealFrom, item.last, around.fleetRows);
}

function scrolled(top: number, command: Command, height: number, total: number, page = height): number {
  const by: Partial<Record<Command, number>> = {
    up: -1,
    down: 1,
    "page up": -(page - 1),
    "page down": page - 1,
    home: Number.NEGATIVE_INFINITY,
    end: Number.POSITIVE_INFINITY,
  };
  return clampTop(clampTop(top, height, total) + (by[command] ?? 0), height, total);
}
