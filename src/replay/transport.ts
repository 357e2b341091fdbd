import { setImmediate as others } from "node:timers/promises";
import type { PastTeller } from "../collector/answering.ts";
import type { FleetView } from "../collector/fleet-view.ts";
import { readPast, summedPast } from "../collector/past.ts";
import type { ReplayRequest, ReplaySpeed, ReplayView } from "../collector/replay-view.ts";
import { hour, second } from "../terms/time.ts";
import type { Recording } from "./recording.ts";
import { faster, slower } from "./speeds.ts";

/** Plays a recording as it is asked to. */
export interface Transport extends PastTeller {
  request(request: ReplayRequest): void;
  view(): FleetView;
  /** Settles once nothing is played any more. */
  close(): Promise<void>;
}

/** Log time goes on in steps of so much wall time. */
const tickMs = second / 10;
/** Log time that passes at one go is kept so small that its work takes about so long: requests wait for it. */
const workMs = 40;
/** Many units are played faster in longer stretches. */
const workAtMaxMs = 100;
/** A longer pause of the process is not made up for. */
const longestTickMs = second / 4;
/** Where no unit has a reading for so long, time leaps to the next one. */
const leapOverMs = hour;

/** Starts playing at the recording's beginning. `onChange` hears of a new view; `asked` where it answers a request. */
export function startTransport(
  recording: Recording,
  startSpeed: ReplaySpeed,
  onChange: (asked: boolean) => void,
): Transport {
  const { fromMs, toMs } = recording;
  let speed = startSpeed;
  let paused = false;
  let note: string | null = null;
  /** Where all units stand, once they stand anywhere. */
  let atMs = fromMs;
  let goalMs: number | null = fromMs;
  let done = 0;
  /** The units are on their way and stand at different times. */
  let moving = false;
  /** A request came meanwhile, and its answer shows only when they have arrived. */
  let askedOnWay = false;
  let shown = recording.view(fromMs);
  let shownMs = fromMs;
  let mostStepMs = second;
  let tickedMs = performance.now();
  let closed = false;
  let wake: (() => void) | undefined;

  async function goToGoal(): Promise<void> {
    const goal = goalMs;
    if (goal === null) return;
    done = 0;
    const onWay = (part: number): void => {
      done = part;
      onChange(false);
    };
    moving = true;
    if (!(await recording.goTo(goal, () => closed || goalMs !== goal, onWay)) || goalMs !== goal) return;
    goalMs = null;
    tickedMs = performance.now();
    arrived(goal);
    onChange(true);
  }

  async function playOn(): Promise<void> {
    const beganMs = performance.now();
    const wantedMs = speed === "max" ? Infinity : speed * Math.min(beganMs - tickedMs, longestTickMs);
    tickedMs = beganMs;
    const stepMs = Math.round(Math.min(wantedMs, mostStepMs));
    const nextMs = recording.nextReadingMs(null);
    const leaps = nextMs - atMs > leapOverMs;
    const to = Math.min(leaps ? nextMs : atMs + stepMs, toMs);
    moving = true;
    // So little that it needs no interruption.
    await recording.goTo(to, () => false);
    const tookMs = performance.now() - beganMs;
    const may = Math.max(0.5, Math.min(2, (speed === "max" ? workAtMaxMs : workMs) / Math.max(1, tookMs)));
    if (may < 1 || (stepMs === mostStepMs && !leaps)) mostStepMs = Math.max(second, Math.round(stepMs * may));
    arrived(to);
    onChange(paused || askedOnWay);
    askedOnWay = false;
    if (speed !== "max" && goalMs === null && !paused) await sleep(tickMs - tookMs);
    else await others();
  }

  function arrived(timeMs: number): void {
    moving = false;
    atMs = timeMs;
    shownMs = Number.NaN;
    if (atMs >= toMs) paused = true;
  }

  async function run(): Promise<void> {
    while (!closed) {
      if (goalMs !== null) await goToGoal();
      else if (paused) await sleep(Infinity);
      else await playOn();
    }
  }

  /** Until a request comes, at longest so long. */
  async function sleep(ms: number): Promise<void> {
    const { promise, resolve } = Promise.withResolvers<void>();
    wake = resolve;
    const timer = ms === Infinity ? undefined : setTimeout(resolve, Math.max(0, ms));
    await promise;
    clearTimeout(timer);
    wake = undefined;
  }

  function goTo(timeMs: number): void {
    goalMs = Math.max(fromMs, Math.min(toMs, timeMs));
    paused = true;
  }

  function playOrPause(): void {
    const atEnd = (goalMs ?? atMs) >= toMs;
    paused = atEnd || !paused;
    if (atEnd) note = "at the end; b plays from the beginning";
    tickedMs = performance.now();
  }

  function take(request: ReplayRequest): void {
    note = null;
    switch (request.ask) {
      case "play or pause":
        playOrPause();
        return;
      case "faster":
        speed = faster(speed);
        return;
      case "slower":
        speed = slower(speed);
        return;
      case "beginning":
        goTo(fromMs);
        paused = false;
        return;
      case "go to":
        goTo(request.timeMs);
        return;
      case "step": {
        // Until all units have arrived nobody knows which reading is next.
        if (goalMs !== null) return;
        const nextMs = recording.nextReadingMs(request.unit);
        if (nextMs <= toMs) goTo(nextMs);
        else note = "no later reading";
        return;
      }
      case "next alarm":
      case "last alarm": {
        const direction = request.ask === "next alarm" ? "next" : "last";
        const event = recording.alarm(direction, goalMs ?? atMs, request.unit);
        if (event === undefined) {
          note = direction === "next" ? "no later alarm" : "no earlier alarm";
          return;
        }
        goTo(event.timeMs);
        note = `${event.unit} ${event.alarm.replaceAll("-", " ")} ${event.event}`;
      }
    }
  }

  const running = run();
  return {
    request(request) {
      take(request);
      askedOnWay = moving;
      wake?.();
      onChange(true);
    },
    view() {
      if (!moving && shownMs !== atMs) {
        shown = recording.view(atMs);
        shownMs = atMs;
      }
      const goingTo: ReplayView["goingTo"] = goalMs === null ? null : { timeMs: goalMs, done };
      return { ...shown, replay: { fromMs, toMs, speed, paused, goingTo, note } };
    },
    history(unit, wanted) {
      const past = recording.past(unit, atMs);
      return past && summedPast(past, wanted);
    },
    async readHistory(unit, wanted, isOver) {
      const past = recording.past(unit, atMs);
      return past && readPast(past, wanted, isOver);
    },
    async close() {
      closed = true;
      wake?.();
      await running;
    },
  };
}
