import { parentPort } from "node:worker_threads";
import type { Fleet } from "../fleet/unit.ts";
import { type Notifying, startNotifying, statusNotices } from "../notify/notifying.ts";
import { visible } from "../terms/text.ts";
import { startAnswering } from "./answering.ts";
import { type Collector, startCollector } from "./collector.ts";
import type { FleetView } from "./fleet-view.ts";
import { type Keeping, type Said, startKeeping } from "./keeping.ts";
import type { FromWorker, StartWorker, ToWorker, WorkerStart } from "./messages.ts";
import { startViewMessages } from "./next-view.ts";
import { type Serving, serve, tooLong } from "./serve.ts";
import { startViewTimes } from "./view-times.ts";

const changingHands = "an unattended collector is taking over here; say it again in a moment";

const port = parentPort;
if (port === null) throw new Error("the collector's worker is started by collectorThread");
const post = (message: FromWorker) => port.postMessage(message);

const started = Promise.withResolvers<WorkerStart>();
/** What is asked of it before it collects waits. */
const early: ToWorker[] = [];
let take = (message: ToWorker): void => void early.push(message);
port.on("message", (message: ToWorker | StartWorker) => {
  if (message.kind === "start") started.resolve(message.start);
  else take(message);
});

const start = await started.promise;
const asked = start.keep && (await startKeeping(start.keep));
if (asked && "taken" in asked) {
  post({ kind: "taken" });
  port.close();
} else if (asked && "problem" in asked && start.keep?.kind === "collect") {
  post({ kind: "unkept", problem: asked.problem });
  port.close();
} else if (asked && "kept" in asked) await collect(asked.kept, null);
else await collect(undefined, asked ? asked.problem : null);

/** `unkept`: why nothing can be kept. */
async function collect(keeping: Keeping | undefined, unkept: string | null): Promise<void> {
  let serving: Serving | undefined;
  let notifying: Notifying | undefined;
  const startedMs = Date.now();
  let going = false;

  const views = startViewMessages();
  let unnotified: FleetView["unnotified"];
  const shown = (): FleetView => ({ ...collector.view(), ...(unnotified && { unnotified }) });
  /** Another fleet file is being taken up: the collector that ends is no more to be seen. */
  let changing = false;
  const times = startViewTimes(() => {
    if (changing) return;
    const view = shown();
    notifying?.look(view);
    const message = views.next(view);
    if (message === null) return;
    post(message);
    serving?.send(message);
  });
  const onChange = times.changed;
  const onEarly = (view: FleetView): void => {
    const message = views.next(view);
    if (message !== null) post(message);
  };
  const notices: string[] = [];
  if (unkept !== null) notices.push(`nothing is kept: ${unkept}`);
  const long = keeping === undefined ? null : tooLong(keeping.folder);
  if (long !== null) notices.push(long);

  const begin = (fleet: Fleet): Promise<Collector> => {
    if (keeping !== undefined && start.keep?.kind === "collect" && fleet.notify !== undefined) {
      notifying = startNotifying({ fleet, db: keeping.db, now: Date.now, onStatus: () => onChange(true) });
    } else notifying = undefined;
    const somebodyShould = start.keep !== undefined && fleet.notify !== undefined;
    unnotified =
      somebodyShould && notifying === undefined ? { sinceMs: keeping?.sinceMs ?? startedMs } : undefined;
    return startCollector(
      { ...start, fleet, ...(start.keep && { kind: start.keep.kind }) },
      {
        onChange,
        ...(start.unseen && { onEarly }),
        onKept: (event) => start.keep?.kind === "collect" && post({ kind: "event", event }),
      },
      { ...(keeping && { keeping }), notices: () => [...notices, ...tellingNotices()] },
    );
  };
  const tellingNotices = (): readonly string[] =>
    notifying === undefined ? [] : statusNotices(notifying.status(), Date.now());
  let collector = await begin(start.fleet);
  if (keeping !== undefined && long === null) {
    serving = await serve(keeping.folder, keeping.fileMode, () => views.last() ?? shown(), answering).catch(
      (error: unknown) => {
        notices.push(`other consoles cannot attach: ${visible((error as Error).message)}`);
        onChange(true);
        return undefined;
      },
    );
  }

  function answering(reply: (message: FromWorker) => void): (message: ToWorker) => void {
    const answerPast = startAnswering(() => collector, reply);
    return (message) => {
      if (message.kind === "history") answerPast(message);
      else if (message.kind === "hand-over" && start.keep?.kind === "watch") handOver();
      else if (message.kind === "say") {
        const problem = going ? changingHands : sayAll(collector, message.said);
        reply({ kind: "said", request: message.request, problem });
      }
    };
  }

  async function end(): Promise<void> {
    await collector.close();
    await notifying?.close();
  }

  let last: Promise<void> = Promise.resolve();

  function handOver(): void {
    if (going) return;
    post({ kind: "handed-over" });
    serving?.handOver();
    letGo();
  }

  function letGo(): void {
    if (going) return;
    going = true;
    void last.then(async () => {
      times.stop();
      // The folder is let go only when all is kept; whoever attached then finds nobody, and takes over.
      await end();
      times.stop();
      keeping?.close();
      await serving?.close();
      port?.close();
    });
  }

  times.send();
  const answer = answering(post);
  take = (message) => {
    answer(message);
    if (message.kind === "fleet" && !going) {
      last = last.then(async () => {
        changing = true;
        await end();
        collector = await begin(message.fleet);
        changing = false;
        onChange(true);
      });
    }
    if (message.kind === "close") letGo();
  };
  for (const message of early) take(message);
}

function sayAll(collector: Collector, said: readonly Said[]): string | null {
  for (const one of said) {
    const problem = collector.say(one);
    if (problem !== null) return problem;
  }
  return null;
}
