import { insertEvents } from "../../src/store/events.ts";
import { inTransaction } from "../../src/store/outcome.ts";
import { addService } from "../../src/store/services.ts";
import { insertSummaries } from "../../src/store/summaries.ts";
import { addWord } from "../../src/store/words.ts";
import { type Channel, channelIndex } from "../../src/terms/channels.ts";
import { day, hour, iso, minute } from "../../src/terms/time.ts";
import { emptyState } from "./kept.ts";

/** 1 April 2026, 00:00 UTC. */
export const april = Date.UTC(2026, 3, 1);

/** What is written in a name, a remark and a message to break out of a page. */
export const hostile = `<script>alert(1)</script>"'&\u001b[2J`;

const values: Partial<Record<Channel, (hourAt: number) => number>> = {
  motor_current: (at) => (at >= 48 && at < 54 ? 0 : 9.2),
  gas_pressure: (at) => 24 + at / 100,
  suction_pressure: () => -24,
  ozone: (at) => (at >= 48 && at < 54 ? 0 : 1),
};

/**
 * A state folder that holds ten days of April of LM-01: hours 100 to 112 without readings, stopped without power for the
 * six hours from hour 48 on, an hour's cleaning under way, one acknowledgement. Of LM-02 nothing.
 */
export async function keptMonth(): Promise<string> {
  const { folder, db } = await emptyState();
  const hours = 240;
  inTransaction(db, () => {
    const signals = Object.entries(values).map(([channel, of]) => {
      const column = Float32Array.from({ length: hours }, (_, at) =>
        at >= 100 && at < 112 ? Number.NaN : of(at),
      );
      return { signal: channelIndex[channel as Channel], min: column, mean: column, max: column };
    });
    insertSummaries(db, "LM-01", [{ stepMs: hour, fromMs: april, signals }]);
    const raisedMs = april + 48 * hour;
    const event = { unit: "LM-01", alarm: "not-running", priority: "high", message: hostile, evidence: {} };
    insertEvents(
      db,
      (
        [
          ["raised", raisedMs],
          ["cleared", april + 54 * hour],
        ] as const
      ).map(([what, timeMs], n) => ({
        unit: "LM-01",
        seq: n + 1,
        timeMs,
        line: JSON.stringify({ ...event, event: what, seq: n + 1, time: iso(timeMs), since: iso(timeMs) }),
      })),
    );
  });
  const said = { unit: "LM-01", by: "Ann" } as const;
  addWord(db, {
    ...said,
    id: "1",
    atMs: april + 48 * hour + 20 * minute,
    alarm: "not-running",
    action: "acknowledge",
    raisedMs: april + 48 * hour,
  });
  const work = { ...said, id: "2", work: "cleaning", step: "begin", note: "=1+1" } as const;
  const atMs = april + 5 * day;
  addService(db, { ...work, atMs, untilMs: atMs + 8 * hour, saidMs: atMs });
  addService(db, {
    ...{ ...said, id: "3", work: "cleaning", step: "end", atMs: atMs + hour, saidMs: atMs + hour },
    visit: {
      leftMs: atMs + hour,
      readings: { dissolvedOxygenMgL: 7.4, secchiM: 1.2192, waterTemperatureC: 18 },
      gauges: { motor_current: 9 },
      groundFault: "did not trip",
      parts: ["check valve"],
      photos: [`=${hostile}.jpg`],
    },
  });
  db.close();
  return folder;
}
