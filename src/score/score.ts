import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { type Figures, figures, type Share, share } from "./figures.ts";
import { type Held, type HeldFault, type HeldRaise, hold } from "./hold.ts";
import { looksAtClock, type Told } from "./told.ts";
import type { Fault } from "./truth.ts";

/** How often faults of one name had which first alarm. */
export interface FirstAlarms {
  readonly fault: AlarmName;
  readonly faults: number;
  readonly first: ReadonlyMap<AlarmName | null, number>;
}

export interface Score {
  readonly unitDays: number | null;
  /** Every alarm, in the order of the alarms. */
  readonly alarms: readonly { readonly alarm: AlarmName; readonly figures: Figures }[];
  /** All alarms together but those that look at a clock. */
  readonly total: Figures;
  readonly firstAlarms: readonly FirstAlarms[];
  /** Of all faults, those whose first alarm names them. */
  readonly firstAlarmRight: Share | null;
  readonly missed: readonly HeldFault[];
  readonly falseAlarms: readonly HeldRaise[];
}

function only({ faults, raises }: Held, wanted: (alarm: AlarmName) => boolean): Held {
  return {
    faults: faults.filter(({ fault }) => wanted(fault.alarm)),
    raises: raises.filter(({ raise }) => wanted(raise.alarm)),
  };
}

/** Scores alarms by known faults. `told` in order of time; `unitDays` null where they are not known. */
export function score(faults: readonly Fault[], told: readonly Told[], unitDays: number | null): Score {
  const held = hold(faults, told);
  const watched = only(held, (alarm) => !looksAtClock(alarm));
  const right = watched.faults.filter(({ fault, first }) => first === fault.alarm);
  return {
    unitDays,
    alarms: alarmNames.map((alarm) => ({
      alarm,
      figures: figures(
        only(held, (other) => other === alarm),
        unitDays,
      ),
    })),
    total: figures(watched, unitDays),
    firstAlarms: alarmNames.flatMap((alarm) => {
      const those = watched.faults.filter(({ fault }) => fault.alarm === alarm);
      const byFirst = Map.groupBy(those, ({ first }) => first);
      const first = new Map([...byFirst].map(([name, list]) => [name, list.length]));
      return those.length === 0 ? [] : [{ fault: alarm, faults: those.length, first }];
    }),
    firstAlarmRight: share(right.length, watched.faults.length),
    missed: held.faults.filter(({ delayMs }) => delayMs === null),
    falseAlarms: held.raises.filter(({ as }) => as === "false"),
  };
}
