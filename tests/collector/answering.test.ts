import { expect, it, vi } from "vitest";
import { startAnswering } from "../../src/collector/answering.ts";
import type { UnitHistory } from "../../src/collector/fleet-view.ts";
import type { FromWorker } from "../../src/collector/messages.ts";
import { plainPast } from "../dashboard/fixture.ts";

const past: UnitHistory = {
  ...plainPast,
  ...{ unit: "A", fromMs: 0, toMs: 1, timeMs: [0.5], signals: [], events: [] },
};
const ask = (request: number, finely = false) => ({
  kind: "history" as const,
  ...{ request, unit: "A", fromMs: 0, toMs: 1, points: 1 },
  ...(finely && { finely: true as const }),
});

it("gives a reading of the logs up for the next question of the same screen, not of another", async () => {
  const reads: { isOver: () => boolean; end: (found: UnitHistory | undefined) => void }[] = [];
  const teller = () => ({
    history: () => past,
    readHistory: (_unit: string, _wanted: unknown, isOver: () => boolean) =>
      new Promise<UnitHistory | undefined>((end) => reads.push({ isOver, end })),
  });
  const told: FromWorker[][] = [[], []];
  const [one, other] = told.map((replies) => startAnswering(teller, (message) => replies.push(message)));
  one?.(ask(1, true));
  other?.(ask(1, true));
  one?.(ask(2));
  expect(reads.map(({ isOver }) => isOver())).toEqual([true, false]);
  reads[0]?.end(undefined);
  reads[1]?.end(past);
  await vi.waitFor(() => expect(told.map(({ length }) => length)).toEqual([2, 1]));
  expect(told[0]).toEqual([
    { kind: "history", request: 2, history: past },
    { kind: "history", request: 1, history: undefined, overtaken: true },
  ]);
  expect(told[1]).toEqual([{ kind: "history", request: 1, history: past }]);
});

it("tells what is summed up where the logs cannot be read", async () => {
  const replies: FromWorker[] = [];
  const teller = { history: () => past, readHistory: () => Promise.reject(new Error("the disk failed")) };
  startAnswering(
    () => teller,
    (message) => replies.push(message),
  )(ask(1, true));
  await vi.waitFor(() => expect(replies).toEqual([{ kind: "history", request: 1, history: past }]));
});
