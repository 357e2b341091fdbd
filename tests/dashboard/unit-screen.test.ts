import { describe, expect, test } from "vitest";
import type { FleetView, UnitView } from "../../src/collector/fleet-view.ts";
import { unitLayout, unitScreen } from "../../src/dashboard/unit-screen.ts";
import { drawn } from "./draw.ts";
import { alarm, fleetView, history, lostPrime, nightMs, reading, shownPast, unit } from "./fixture.ts";

const hour = 3_600_000;

function whole(shown: UnitView, over: Partial<FleetView> = {}, width = 80, unicode = true): string {
  const view = fleetView(0, { units: [shown], ...over });
  const past = history(view, shown.id, nightMs - 4 * hour, nightMs, (width - 22) * (unicode ? 2 : 1));
  const layout = unitLayout(shown, view, shownPast(past), 0, unicode, width, 24);
  return drawn([...layout.head, ...layout.lines], width).join("\n");
}

describe("one unit", () => {
  test("tells an alarm in words, its age and state, the numbers, causes, what to do and the cautions", () => {
    const shown = whole(lostPrime);
    expect(shown).toContain("■ high  Lost prime for 12 min · active");
    expect(shown).toContain("discharge pressure 2.1 kPa, baseline 86.4 kPa");
    expect(shown).toContain("motor current 4.1 A, baseline 9.2 A, limit 6.0 A");
    expect(shown).toMatch(/how soon +now: fish depend/);
    expect(shown).toMatch(/likely causes +· air leak in the suction line/);
    expect(shown).toMatch(/what to do +1\. Cut the power/);
    expect(shown).toMatch(/caution +The casing may be scalding/);
  });

  test("numbers said anew since the raising are called by their own time, not those of the raising", () => {
    const raised = alarm({ saidMs: nightMs - 11.5 * 60_000 });
    expect(whole(unit("A", { alarms: [raised] }))).toMatch(/raised 03:00\n[\s\S]*when raised +· discharge/);
    const anew = whole(unit("A", { alarms: [{ ...raised, saidMs: nightMs - 2 * 60_000 }] }));
    expect(anew).toContain("since 03:00, raised 03:00; as it stood at 03:10");
    expect(anew).toMatch(/as it stood +· discharge pressure 2\.1 kPa/);
    expect(anew).not.toContain("when raised");
  });

  test("a reading stands against its normal band and its limits, low or high in a word", () => {
    const shown = whole(lostPrime);
    expect(shown).toMatch(/motor current +4\.1 A +low +‹─*━+─*┤ +8\.9 to 9\.5 +4\.6 to 11\.3/);
    expect(shown).toMatch(/motor temperature +71\.2 °C +high .*52\.0 to 64\.0 +up to 90\.0/);
    expect(shown).toMatch(/suction pressure .* from -60\.0/);
  });

  test("a number that looks like the limit it passed is shown in more digits", () => {
    const hot = alarm({ evidence: { motor_temperature: { value: 90.02, limit: 90, unit: "°C" } } });
    const shown = whole(unit("A", { alarms: [hot] }), { display: "us" });
    expect(shown).toContain("motor temperature 194.04 °F, limit 194 °F");
  });

  test("under the US display, evidence and bands are in US units as well", () => {
    const shown = whole(lostPrime, { display: "us" });
    expect(shown).toContain("discharge pressure 0.3 psi, baseline 12.5 psi");
    expect(shown).toMatch(/motor temperature +160\.2 °F/);
  });

  test("while its logs are being read nothing is said to be in order", () => {
    const shown = whole(unit("A", { catchingUp: true, baseline: null, sinceMs: null, quiet: [] }));
    expect(shown).toContain("A · Heron Bend · … running");
    expect(shown).toContain("not judged yet: its logs are still being read");
    expect(shown).toContain("Newest readings (the baseline is not known yet)");
    expect(shown).not.toContain("none; silence");
    expect(shown).not.toContain("every rule has what it needs");
  });

  test("says whether the baseline is confirmed", () => {
    expect(whole(unit("A"))).toContain("the confirmed baseline");
    expect(whole(unit("A", { baseline: "provisional" }))).toContain(
      "provisional baseline (nobody has confirmed it)",
    );
    expect(whole(unit("A", { baseline: null }))).toContain("no baseline");
    const baselineNote =
      "Since the re-piping of 2026-05-04 it may no longer hold. If the unit runs otherwise now: " +
      "tarnwatch service baseline FLEET A relearn; if not: tarnwatch service baseline FLEET A confirm";
    const shown = whole(unit("A", { baselineNote }));
    expect(shown.replace(/\s+/g, " ")).toContain(baselineNote);
    expect(Math.max(...shown.split("\n").map((row) => row.length))).toBeLessThanOrEqual(80);
  });

  test("charts the past on local time, with alarms under it", () => {
    const shown = whole(lostPrime);
    expect(shown).toContain("The last 4 hours");
    expect(shown).toMatch(/4 May +01:00 +02:00 +03:00/);
    expect(shown).toMatch(/■ Lost prime +│ +▬+/);
    expect(shown).toMatch(/ {3}Cavitation +│ +▬+/);
    expect(shown).toMatch(/[\u2800-\u28ff]{20}/);
  });

  test("charts are drawn in ASCII where the terminal has no Braille", () => {
    const shown = whole(lostPrime, {}, 80, false);
    expect(shown).not.toMatch(/[\u2800-\u28ff]/);
    expect(shown).toMatch(/\*{10}/);
  });

  test("tells what is not watched and why, and how its log was read", () => {
    const shown = whole(lostPrime);
    expect(shown).toMatch(/the log has no ozone-in-air column\s+ozone in air/);
    expect(shown).toContain("181 433 rows · 3 repeats · 1 late · 2 rejected");
    expect(shown).toContain("LM-03.csv:8812 motor_current_a: '9,,1' is not a number");
  });

  test("no alarm is not called safe", () => {
    expect(whole(unit("A"))).toContain("none; silence is no proof of safety");
  });

  test("a shelved alarm stands apart from those that ask for someone", () => {
    expect(whole(unit("A", { alarms: [alarm({ state: "shelved" })] }))).toMatch(
      /Alarms set aside\n.*Lost prime · shelved/,
    );
  });

  test("several columns of one channel are told apart", () => {
    const two = [reading("vibration", 0.02), reading("vibration", 0.5, { part: 1 })];
    expect(whole(unit("A", { readings: two }))).toMatch(/vibration 1 +0\.02 g[\s\S]*vibration 2 +0\.50 g/);
  });

  test.each([
    [60, 15],
    [80, 24],
    [132, 40],
    [300, 100],
  ])("fills %i × %i exactly", (width, height) => {
    const view = fleetView(14);
    const past = history(view, "LM-03", nightMs - hour, nightMs, 100);
    const layout = unitLayout(lostPrime, view, shownPast(past), 0, true, width, height);
    expect(unitScreen(layout, view, 0, width, height)).toHaveLength(height);
  });
});

test("notes stand with the alarm they are of, and under what people do here where they are of another or of all", () => {
  const by = { by: "Ann", atMs: nightMs - 20 * 60_000 };
  const shown = whole(
    unit("LM-01", {
      alarms: [alarm({ noted: { ...by, note: "seal ordered" } })],
      notes: [
        { ...by, alarm: "lost-prime", note: "seal ordered" },
        { ...by, alarm: "cavitation", note: "rattles at noon" },
        { ...by, alarm: "all", note: "the pond is low" },
      ],
    }),
  );
  const [standing, people] = shown.split("What people do here");
  expect(standing).toContain("note by Ann at 02:52: seal ordered");
  expect(people).toContain("note by Ann at 02:52 on cavitation: rattles at noon");
  expect(people).toContain("note by Ann at 02:52: the pond is low");
  expect(people).not.toContain("seal ordered");
});

test("the head of a unit leaves out what does not fit: how long, then the site; never half of it", () => {
  const head = (width: number, over: Partial<UnitView>) =>
    whole(unit("LM-03", { state: "under service", sinceMs: nightMs - 3 * hour, ...over }), {}, width).split(
      "\n",
    )[1];
  expect(head(100, { site: "Otter Pool" })).toMatch(/Otter Pool · ◇ under service since 00:12 \(3 h\) +last/);
  expect(head(80, { site: "Otter Pool, mill" })).toMatch(/mill · ◇ under service since 00:12 +last/);
  expect(head(80, { site: "The Otter Pool at the old water mill" })).toMatch(
    /^ LM-03 · ◇ under service since/,
  );
});

test("a stop that is planned for later stands under what people do here", () => {
  const stop = {
    unit: "LM-01",
    work: "planned stop",
    step: "begin",
    by: "Ann",
    note: "pond drained",
  } as const;
  const planned = [{ ...stop, atMs: nightMs + hour, untilMs: nightMs + 3 * hour }];
  expect(whole(unit("LM-01", { planned }))).toMatch(
    /What people do here\n +stop planned by Ann from 04:12 until 06:12: pond drained/,
  );
});
