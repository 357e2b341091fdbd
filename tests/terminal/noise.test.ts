import { setTimeout as sleep } from "node:timers/promises";
import fc from "fast-check";
import { afterEach, expect, it } from "vitest";
import { readWithinMs } from "../../src/dashboard/saying/use-saying.ts";
import { keptSilences } from "./kept-silences.ts";
import { type LivingFleet, livingFleet } from "./living-fleet.ts";
import { type Answer, answers, type Noise, noise, type Scene, scene } from "./noise.ts";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

/** `npm run soak` asks for ten thousand, and each time for others. */
const isSoak = process.env.TARNWATCH_SOAK !== undefined;
const presses = isSoak ? 10_000 : 300;
const seed = isSoak ? Number(process.env.TARNWATCH_SEED ?? Date.now() % 1_000_000) : 20_260_504;
const lookEvery = 150;
const sceneEvery = 60;

let screen: TerminalSession | undefined;
let living: LivingFleet | undefined;
afterEach(() => {
  screen?.close();
  living?.stop();
});

interface Confirmed {
  readonly atMs: number;
  readonly asked: string;
}

/** A question can come up this long after an Enter, however busy the machine is. */
const askedWithinMs = 2000;
const question = / c {2}confirms it/;
/** What was asked, its rows as one. */
const askedBy = (text: string): string | null => (question.test(text) ? text.replace(/\s+/g, " ") : null);

/** Presses keys of a dashboard, and remembers what it pressed and what was confirmed on purpose. */
function startPressing(session: TerminalSession, fleet: LivingFleet) {
  const { type, text, until } = session;
  const pressed: string[] = [];
  const confirmed: Confirmed[] = [];
  const counts = {
    keys: 0,
    resizes: 0,
    scenes: 0,
    confirmed: 0,
    refused: 0,
    again: 0,
    hasty: 0,
    heldBack: 0,
    looks: 0,
    looksAgain: 0,
  };
  let enteredMs = -Infinity;

  const send = (keys: string): void => {
    if (/[\r\n]/.test(keys)) enteredMs = performance.now();
    pressed.push(JSON.stringify(keys.slice(0, 60)));
    counts.keys++;
    type(keys);
  };
  /** All that was written so far is on the screen, and nothing follows it at once. */
  const settled = async (): Promise<void> => {
    for (let before = -1; before !== session.raw().length; await sleep(60)) before = session.raw().length;
    await until(() => true, "a whole frame");
  };
  /** Presses a key until it is heard: read together with others it is none. */
  const insist = async (key: string, isHeard: () => boolean, what: string): Promise<void> => {
    for (let time = 1; ; time++) {
      send(key);
      const heard = until(isHeard, what, 2000);
      if (time === 4) await heard;
      if (
        await heard.then(
          () => true,
          () => false,
        )
      )
        return;
      counts.again++;
    }
  };
  const back = async (times: number): Promise<void> => {
    for (let time = 0; time < times; time++) {
      send("\u001b");
      await sleep(30);
    }
  };

  async function noisy(keys: string, thenMs: number): Promise<void> {
    // A terminal's own answer leaves a `c` in the same burst alone: none is sent with one.
    if (keys === "c") {
      await until(() => true, "a whole frame");
      if (askedBy(text()) !== null || performance.now() - enteredMs < askedWithinMs) {
        counts.heldBack++;
        return;
      }
    }
    send(keys);
    if (thenMs > 0) await sleep(thenMs);
  }

  function resize(columns: number, rows: number): void {
    pressed.push(`${columns}×${rows}`);
    counts.resizes++;
    session.resize(columns, rows);
  }

  async function play({ unitsDown, line }: Scene, answer: Answer): Promise<void> {
    counts.scenes++;
    resize(100, 40);
    await sleep(60);
    // Keys that are read together may be others than they are one by one, and open no line.
    for (let time = 1; ; time++) {
      await back(5);
      await settled();
      send("1");
      send("\u001b[H");
      for (let unit = 0; unit < unitsDown; unit++) send("\u001b[B");
      await settled();
      send("w");
      const opened = session.shows("says: ", 2000);
      if (time === 4) await opened;
      if (
        await opened.then(
          () => true,
          () => false,
        )
      )
        break;
      counts.again++;
    }
    send(line);
    await session.shows(`${line}_`, 5000);
    send("\r");
    const sinceMs = performance.now();
    await until(() => askedBy(text()) !== null, "a question", 700).catch(() => undefined);
    const asked = askedBy(text());
    if (asked === null) {
      counts.refused++;
      return await back(2);
    }
    const confirms = (): void => {
      confirmed.push({ atMs: Date.now(), asked });
      counts.confirmed++;
    };
    if (answer === "at once") {
      counts.hasty++;
      send("c");
      const stands = await until(() => askedBy(text()) === null, "", 150).then(
        () => false,
        () => true,
      );
      if (stands) return await back(2);
      // However slow the program is: it asked after Enter was sent, and heard `c` before this.
      expect(performance.now() - sinceMs, `confirmed at once: ${asked}`).toBeGreaterThan(readWithinMs);
      return confirms();
    }
    await sleep(readWithinMs + 50);
    if (answer === "another key first") {
      send("x");
      await until(() => askedBy(text()) === null, "the question to go", 5000);
      send("c");
    } else if (answer === "read") {
      confirms();
      send("c");
    } else send(answer === "burst" ? "c\u001b[B" : "\u001b[200~c\u001b[201~");
    await until(() => askedBy(text()) === null, "the question to go", 5000);
    await sleep(60);
  }

  return {
    counts,
    confirmed,
    settled,
    insist,
    back,
    /** What was pressed last, to be pressed again by hand. */
    last: () => pressed.slice(-150).join(" "),
    play,
    press: async (one: Noise): Promise<void> => {
      if ("rows" in one) resize(one.columns, one.rows);
      else await noisy(one.typed, one.thenMs);
    },
    /**
     * The screen as it stands is the screen as it is drawn from nothing, but for the figures that go on with the
     * clock. It is looked at just after the clock has gone on, while no log grows; drawing it anew mends a torn one,
     * so that only a clock that has gone on again, or keys that were not yet read, let it be looked at once more.
     */
    look: async (): Promise<void> => {
      const shown = () => session.painted().map((row) => row.map((cell) => cell.replace(/^\d/, "#")));
      const clock = () => /\d\d:\d\d:\d\d/.exec(session.lines()[0] ?? "")?.[0];
      counts.looks++;
      fleet.write(false);
      const tick = async (): Promise<void> => {
        await settled();
        const before = clock();
        if (before !== undefined) await until(() => clock() !== before, "the clock to go on", 10_000);
      };
      // What came of a word that was said before is told a while after it.
      await tick();
      for (let time = 1; time <= 10; time++) {
        await tick();
        await settled();
        const [stood, text, at, again] = [shown(), session.text(), clock(), counts.again];
        const from = session.raw().length;
        const isDrawn = () => session.raw().indexOf("\u001b[?1049h", from) >= 0;
        await insist("\u000c", isDrawn, "the screen drawn anew");
        await settled();
        const drawn = shown();
        if (drawn.join() === stood.join()) return fleet.write(true);
        if (clock() === at && counts.again === again) {
          expect(text, "a torn screen").toBe(session.text());
          expect(stood, "torn colours").toEqual(drawn);
        }
        counts.looksAgain++;
      }
      throw new Error("the clock went on at each look");
    },
  };
}

it(`${presses} keys, pastes and resizes at random tear no screen, end nothing, and say nothing that nobody confirmed`, {
  timeout: 60_000 + presses * 200,
}, async () => {
  living = livingFleet();
  const args = ["dist/launch.js", "watch", living.fleet, "--by", "Ann", "--state", living.state];
  screen = startInTerminal(node, args, { columns: 100, rows: 30 });
  await screen.shows("■ LM-02");
  const { press, play, look, settled, insist, back, counts, confirmed, last } = startPressing(screen, living);
  const began = performance.now();
  try {
    const scenes = fc.sample(scene, { seed, numRuns: Math.floor(presses / sceneEvery) });
    for (const [n, one] of fc.sample(noise, { seed, numRuns: presses }).entries()) {
      await press(one);
      const meant = n % sceneEvery === 0 ? scenes.pop() : undefined;
      if (meant !== undefined) await play(meant, answers[scenes.length % answers.length] ?? "read");
      if (n % lookEvery === lookEvery - 1) await look();
    }
    await back(6);
    await settled();
    await insist("q", () => !screen?.state().alternate, "the screen given back");
    expect(await screen.exit()).toBe(0);
    expect(screen.state()).toMatchObject({ alternate: false, cursorShown: true, bracketedPaste: false });
    const { count, silences } = keptSilences(living.state);
    if (isSoak)
      console.log({
        seed,
        ...counts,
        kept: count,
        silences: silences.length,
        seconds: Math.round((performance.now() - began) / 1000),
      });
    expect(silences.length).toBeGreaterThan(0);
    const left = [...confirmed];
    for (const { atMs, units, asked } of silences) {
      const by = left.findIndex(
        (one) =>
          Math.abs(atMs - one.atMs) < 3000 &&
          one.asked.includes(asked) &&
          units.every((id) => one.asked.includes(id)),
      );
      expect(
        by,
        `nobody confirmed: ${asked} ${units} at ${new Date(atMs).toISOString()}`,
      ).toBeGreaterThanOrEqual(0);
      left.splice(by, 1);
    }
  } catch (error) {
    throw new Error(
      `seed ${seed}, after ${JSON.stringify(counts)} and ${last()}: ${(error as Error).message}`,
      {
        cause: error,
      },
    );
  }
});
