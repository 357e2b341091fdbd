import { tellingOrder } from "../assess/causes.ts";
import type { AlarmEvent, Finding } from "../terms/events.ts";
import { jsonLine } from "../terms/text.ts";
import { iso } from "../terms/time.ts";

/** One unit's findings in the order in which its engine told them. */
export interface UnitFindings {
  readonly id: string;
  readonly findings: readonly Finding[];
}

/**
 * A fleet's findings as events: by time, then units as given, then the order of telling; `seq` counts
 * each unit's events from 1.
 */
export function inOrder(units: readonly UnitFindings[]): AlarmEvent[] {
  const all = units.flatMap(({ id: unit, findings }, place) =>
    findings.map((finding) => ({ unit, place, finding })),
  );
  all.sort(
    (a, b) =>
      a.finding.timeMs - b.finding.timeMs ||
      a.place - b.place ||
      tellingOrder[a.finding.alarm] - tellingOrder[b.finding.alarm],
  );
  const seqs = new Map<string, number>();
  return all.map(({ unit, finding }) => {
    const seq = (seqs.get(unit) ?? 0) + 1;
    seqs.set(unit, seq);
    return { ...finding, unit, seq };
  });
}

/** An event as one line of JSON, keys in a fixed order. */
export function eventLine(event: AlarmEvent): string {
  const { timeMs, unit, seq, alarm, event: kind, priority, sinceMs, by, message, evidence } = event;
  return jsonLine({
    time: iso(timeMs),
    unit,
    seq,
    alarm,
    event: kind,
    priority,
    since: iso(sinceMs),
    ...(by && { by }),
    message,
    evidence,
  });
}
