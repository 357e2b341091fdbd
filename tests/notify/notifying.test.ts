import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, it, vi } from "vitest";
import {
  type Notifying,
  type NotifyOptions,
  startNotifying,
  statusNotices,
} from "../../src/notify/notifying.ts";
import { loadDeliveries, saveDeliveries } from "../../src/store/deliveries.ts";
import { database, done, emptyFolder, stateFolder } from "../store/workbench.ts";
import { alarm, fleetOf, minute, type Units, viewOf } from "./harness.ts";
import { receiver, script, secretFile } from "./receivers.ts";

const waits = { firstMs: 20, mostMs: 100 };
const running: Notifying[] = [];
const children: ChildProcess[] = [];
afterEach(async () => {
  for (const child of children.splice(0)) child.kill("SIGKILL");
  await Promise.all(running.splice(0).map((notifying) => notifying.close()));
});

function start(notify: string, db: NotifyOptions["db"], over: Partial<NotifyOptions> = {}) {
  const fleet = fleetOf(notify);
  const notifying = startNotifying({ fleet, db, now: Date.now, waits, ...over });
  running.push(notifying);
  return { look: (units: Units) => notifying.look(viewOf(fleet, units, Date.now())), notifying };
}

const hookTo = (url: string, name = "desk", timeout = "10 s") =>
  `${name}: { webhook: "${url}", secret_file: ${secretFile()}, timeout: ${timeout} }`;
const raisedMs = Date.now() - 5 * minute;
const lostPrime: Units = { "LM-01": { alarms: [alarm({ id: "LM-01/7", raisedMs })] } };
const until = (check: () => void) => vi.waitFor(check, { timeout: 30_000, interval: 10 });

describe("a message", () => {
  it("is recorded as delivered, and is not sent again, by this process or the next", async () => {
    const { url, requests } = await receiver((response) => response.end());
    const db = database(await stateFolder());
    const ways = `ways: { ${hookTo(url)} }`;
    const first = start(ways, db);
    first.look(lostPrime);
    await until(() => expect(done(loadDeliveries(db))).toMatchObject([{ outcome: "delivered", tries: 1 }]));
    first.look(lostPrime);
    await first.notifying.close();
    start(ways, db).look(lostPrime);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(requests).toHaveLength(1);
  });

  it("to a receiver that is down is sent again under the same id until it is taken", async () => {
    const { url, requests } = await receiver((response, n) => response.writeHead(n < 4 ? 503 : 200).end());
    const db = database(await stateFolder());
    const { look, notifying } = start(`ways: { ${hookTo(url)} }`, db);
    look(lostPrime);
    await until(() => expect(done(loadDeliveries(db))).toMatchObject([{ outcome: "delivered", tries: 4 }]));
    expect(new Set(requests.map(({ headers }) => headers["idempotency-key"])).size).toBe(1);
    expect(new Set(requests.map(({ body }) => body)).size).toBe(1);
    expect(notifying.status().ways).toMatchObject([{ failing: null, waiting: 0 }]);
  });

  it("is not sent again while the receiver asks for patience", async () => {
    const { url, requests } = await receiver((response) =>
      response.writeHead(429, { "retry-after": "60" }).end(),
    );
    const { look } = start(`ways: { ${hookTo(url)} }`, database(await stateFolder()));
    look(lostPrime);
    await until(() => expect(requests).toHaveLength(1));
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(requests).toHaveLength(1);
  });

  it("that still waits is let go when its alarm is acknowledged", async () => {
    const { url, requests } = await receiver((response) => response.writeHead(503).end());
    const db = database(await stateFolder());
    const { look } = start(`ways: { ${hookTo(url)} }`, db);
    look(lostPrime);
    await until(() => expect(requests.length).toBeGreaterThan(1));
    look({ "LM-01": { alarms: [alarm({ id: "LM-01/7", raisedMs, state: "active-acknowledged" })] } });
    await new Promise((resolve) => setTimeout(resolve, 150));
    const { length } = requests;
    await new Promise((resolve) => setTimeout(resolve, 250));
    expect(requests).toHaveLength(length);
    expect(done(loadDeliveries(db))).toMatchObject([{ outcome: "withdrawn" }]);
  });

  it("that was refused is tried once more by the next process, whose fleet file may be mended", async () => {
    const wrong = await receiver((response) => response.writeHead(404).end());
    const right = await receiver((response) => response.end());
    const db = database(await stateFolder());
    const first = start(`ways: { ${hookTo(wrong.url)} }`, db);
    first.look(lostPrime);
    await until(() => expect(done(loadDeliveries(db))).toMatchObject([{ outcome: "refused" }]));
    first.look(lostPrime);
    await first.notifying.close();
    start(`ways: { ${hookTo(right.url)} }`, db).look(lostPrime);
    await until(() => expect(right.requests).toHaveLength(1));
    expect(wrong.requests).toHaveLength(1);
  });
});

describe("a fault of the way", () => {
  it("that hangs delays no other way, and is told", async () => {
    const hangs = await receiver(() => {});
    const works = await receiver((response) => response.end());
    const told: string[] = [];
    const { look, notifying } = start(
      `ways: { ${hookTo(hangs.url, "desk", "1 s")}, ${hookTo(works.url, "office")} }`,
      database(await stateFolder()),
      { onStatus: (status) => told.push(...statusNotices(status, Date.now())) },
    );
    look(lostPrime);
    await until(() => expect(works.requests).toHaveLength(1));
    expect(hangs.requests).toHaveLength(1);
    await until(() => expect(hangs.requests.length).toBeGreaterThan(1));
    expect(notifying.status().ways).toMatchObject([
      { way: "desk", waiting: 1, failing: { why: "it did not answer within 1 s" } },
      { way: "office", waiting: 0, failing: null },
    ]);
    expect(told).toEqual([
      expect.stringMatching(/^messages by desk fail for 0 s, 1 waiting: it did not answer within 1 s$/),
    ]);
  });

  it("by one message, however urgent, does not hold up the others", async () => {
    const { requests, url } = await receiver((response) => {
      response.writeHead(requests.at(-1)?.body.includes('"site":"Heron Bend"') ? 500 : 200).end();
    });
    const db = database(await stateFolder());
    start(`ways: { ${hookTo(url)} }`, db).look({
      ...lostPrime,
      "LM-05": { alarms: [alarm({ id: "LM-05/1", raisedMs, priority: "medium" })] },
    });
    await until(() =>
      expect(done(loadDeliveries(db)).find(({ alarms }) => alarms[0]?.unit === "LM-05")?.outcome).toBe(
        "delivered",
      ),
    );
  });
});

describe("a process killed between a delivery and its record", () => {
  it("sends the message again under the same Idempotency-Key", async () => {
    const state = await stateFolder();
    const dir = emptyFolder();
    let killed: Promise<unknown> | undefined;
    // It is taken, and its sender dies before it hears so.
    const { url, requests } = await receiver((response, n) => {
      if (n > 1) return response.end();
      killed = once(children[0] as ChildProcess, "exit");
      children[0]?.kill("SIGKILL");
      return response.destroy();
    });
    const notify = `ways: { ${hookTo(url)} }`;
    const units = "[{ id: LM-01, site: Heron Bend }]";
    writeFileSync(join(dir, "fleet.yaml"), `fleet: Larkmoor ponds\nunits: ${units}\nnotify: { ${notify} }\n`);
    const view = viewOf(fleetOf(notify), lostPrime, Date.now());
    writeFileSync(join(dir, "view.json"), JSON.stringify(view));
    const begin = () => {
      const child = fileURLToPath(new URL("child.ts", import.meta.url));
      const args = [child, join(dir, "fleet.yaml"), join(dir, "view.json"), state.path];
      children.unshift(spawn(process.execPath, args, { stdio: ["ignore", "ignore", "inherit"] }));
    };
    begin();
    await until(() => expect(requests).toHaveLength(1));
    await killed;
    begin();
    await until(() => expect(requests).toHaveLength(2));
    const [first, second] = requests;
    expect(second?.headers["idempotency-key"]).toBe(first?.headers["idempotency-key"]);
    expect(second?.headers["webhook-id"]).toBe(first?.headers["webhook-id"]);
    expect(second?.body).toBe(first?.body);
  });
});

/** Stores deliveries until SQLite has no page left for another, as on a full disk (SQLITE_FULL). */
function fill(db: NotifyOptions["db"]): void {
  const pages = Number(db.prepare("PRAGMA page_count").get()?.page_count);
  db.exec(`PRAGMA max_page_count = ${pages}`);
  const old = {
    way: "",
    line: "",
    step: 0,
    kind: "raised",
    alarms: [],
    madeMs: 0,
    tries: 0,
    atMs: 0,
  } as const;
  let n = 0;
  const store = (content: string) =>
    saveDeliveries(db, [{ ...old, message: `${++n}`, content, outcome: "covered" }]).problem === undefined;
  for (const size of [2000, 200, 20, 0]) while (store("x".repeat(size)));
}

describe("a full disk", () => {
  it("makes no message go twice, tells so, and is made up for when there is space", async () => {
    const { url, requests } = await receiver((response) => response.end());
    const db = database(await stateFolder());
    const { look, notifying } = start(`ways: { ${hookTo(url)} }`, db);
    fill(db);
    look(lostPrime);
    await until(() => expect(requests).toHaveLength(1));
    for (let i = 0; i < 5; i++) look(lostPrime);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(requests).toHaveLength(1);
    const kept = () => done(loadDeliveries(db)).filter(({ way }) => way === "desk");
    expect(kept()).toEqual([]);
    expect(statusNotices(notifying.status(), Date.now())).toEqual([
      expect.stringMatching(/^what was told to whom cannot be recorded: .*main\.db: the disk is full/),
    ]);
    db.exec("PRAGMA max_page_count = 1000000");
    look(lostPrime);
    expect(kept()).toMatchObject([{ outcome: "delivered" }]);
    expect(notifying.status().problem).toBeNull();
  });
});

describe("a command as a way", () => {
  it("is told of a whole site by one run", async () => {
    const out = join(emptyFolder(), "told");
    const path = script(`import { appendFileSync } from "node:fs";
appendFileSync(process.argv[2], process.env.TARNWATCH_SUBJECT + "\\n");`);
    const db = database(await stateFolder());
    const { look } = start(`ways: { phone: { command: [${process.execPath}, ${path}, ${out}] } }`, db);
    const silent = (id: string) => ({
      alarms: [
        alarm({ id: `${id}/1`, alarm: "readings-stale" as const, priority: "medium" as const, raisedMs }),
      ],
    });
    look(Object.fromEntries(["LM-01", "LM-02", "LM-03"].map((id) => [id, silent(id)])));
    await until(() => expect(done(loadDeliveries(db))).toMatchObject([{ outcome: "delivered" }]));
    expect(readFileSync(out, "utf8").split("\n")).toEqual([
      expect.stringMatching(/^MEDIUM: Heron Bend: 3 of 4 units fell silent together/),
      "",
    ]);
  });
});
