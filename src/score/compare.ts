import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { minute } from "../terms/time.ts";
import { isRaise, type Told } from "./told.ts";

/** Two alarms of one name at one unit are the same where they are raised no further apart. */
const sameMs = 10 * minute;

export interface Compared {
  readonly alarm: AlarmName;
  /** How often it was raised. */
  readonly a: number;
  readonly b: number;
  readonly onlyA: readonly Told[];
  readonly onlyB: readonly Told[];
}

/**
 * Which alarms were raised in one of two runs alone; every alarm that was raised, in the order of the alarms.
 * One alarm answers one of the other run. `a` and `b` in order of time, both after one rule.
 */
export function compare(a: readonly Told[], b: readonly Told[]): Compared[] {
  return alarmNames.flatMap((alarm) => {
    const ofAlarm = (told: readonly Told[]) => told.filter((t) => t.alarm === alarm && isRaise(t));
    const [inA, inB] = [ofAlarm(a), ofAlarm(b)];
    if (inA.length + inB.length === 0) return [];
    const left = new Set(inB);
    const onlyA = inA.filter((raise) => {
      for (const other of left) {
        if (other.unit !== raise.unit || Math.abs(other.timeMs - raise.timeMs) > sameMs) continue;
        left.delete(other);
        return false;
      }
      return true;
    });
    return [{ alarm, a: inA.length, b: inB.length, onlyA, onlyB: [...left] }];
  });
}
