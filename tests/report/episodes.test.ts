import { expect, it } from "vitest";
import { type EpisodeEvent, startEpisodes, takeEvent } from "../../src/report/episodes.ts";

function episodesOf(
  ...events: readonly [EpisodeEvent["event"], number, number, EpisodeEvent["priority"]?][]
) {
  const episodes = startEpisodes();
  events.forEach(([event, timeMs, sinceMs, priority = "medium"], n) => {
    takeEvent(episodes, {
      event,
      timeMs,
      sinceMs,
      priority,
      unit: "LM-01",
      seq: n + 1,
      alarm: "cavitation",
      message: "",
    });
  });
  return episodes.all.map(({ sinceMs, raisedMs, endMs, priority, seq }) => [
    sinceMs,
    raisedMs,
    endMs,
    priority,
    seq,
  ]);
}

it("an alarm's episode lasts from its condition's beginning to its first reading back to normal", () => {
  expect(episodesOf(["raised", 20, 10], ["cleared", 40, 35], ["raised", 60, 50])).toEqual([
    [10, 20, 35, "medium", 2],
    [50, 60, null, "medium", 3],
  ]);
});

it("an alarm that outlives its cause was raised then, one that did not never was", () => {
  expect(episodesOf(["suppressed", 20, 10], ["unsuppressed", 30, 10], ["cleared", 40, 38])).toEqual([
    [10, 30, 38, "medium", 3],
  ]);
  expect(episodesOf(["suppressed", 20, 10], ["cleared", 40, 38])).toEqual([[10, null, 38, "medium", 2]]);
});

it("bears its most urgent priority, and ends where its settings change", () => {
  expect(
    episodesOf(
      ["raised", 20, 10, "low"],
      ["priority-changed", 30, 10, "high"],
      ["settings-changed", 50, 10, "low"],
    ),
  ).toEqual([[10, 20, 50, "high", 3]]);
});
