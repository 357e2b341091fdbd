import type { AlarmState, UnitState, UnitView } from "../collector/fleet-view.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import type { Channel } from "../terms/channels.ts";
import { sentence } from "../terms/text.ts";
import type { Style } from "./line.ts";

/** `lost-prime` as a sentence's start: `Lost prime`. */
export function alarmWords(alarm: AlarmName | string): string {
  return sentence(alarm.replaceAll("-", " "));
}

/** Shape of each priority, so that none is told by colour alone. */
export const priorityMark: Readonly<Record<Priority, string>> = {
  high: "■",
  medium: "▲",
  low: "▼",
  prompt: "○",
};

export const priorityStyle: Readonly<Record<Priority, Style>> = {
  high: "high",
  medium: "medium",
  low: "low",
  prompt: "plain",
};

export const stateMark: Readonly<Record<UnitState, string>> = {
  running: "≈",
  priming: "↑",
  stopped: "–",
  "under service": "◇",
  "laid up": "·",
  "no readings": "?",
};

/** In place of the state's mark while a unit's logs are still to be read. */
export const catchingUpMark = "…";

/** A unit's state with its mark: `≈ running`. */
export function stateText({ state, catchingUp, lastReadingMs }: UnitView): string {
  if (!catchingUp) return `${stateMark[state]} ${state}`;
  return `${catchingUpMark} ${lastReadingMs === null ? "not read yet" : state}`;
}

/** The states of ANSI/ISA-18.2 and IEC 62682 as a person reads them. */
export const alarmStateWords: Readonly<Record<AlarmState, string>> = {
  "active-unacknowledged": "active",
  "active-acknowledged": "acknowledged",
  "returned-unacknowledged": "returned to normal, not acknowledged",
  shelved: "shelved",
  suppressed: "suppressed",
  "out-of-service": "out of service",
};

/** A channel's name in a sentence or a table with room. */
export const channelWords: Readonly<Record<Channel, string>> = {
  motor_current: "motor current",
  motor_temperature: "motor temperature",
  suction_pressure: "suction pressure",
  discharge_pressure: "discharge pressure",
  gas_pressure: "gas pressure",
  ozone: "ozone",
  water_temperature: "water temperature",
  ambient_temperature: "air temperature",
  flow: "flow",
  gas_flow: "gas flow",
  voltage: "voltage",
  power: "power",
  vibration: "vibration",
  water_level: "water level",
  ozone_in_air: "ozone in air",
  run_command: "run command",
};
