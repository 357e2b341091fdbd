import { afterEach, expect, it, vi } from "vitest";
import { history } from "../../src/commands/history.ts";
import { day, hour, iso } from "../../src/terms/time.ts";
import { emptyState, keepEvents } from "../support/kept.ts";
import { told } from "../support/lives.ts";
import { folderWith } from "../support/program.ts";

afterEach(() => vi.restoreAllMocks());

const fromMs = Date.UTC(2026, 4, 1);

async function fleet() {
  const folder = folderWith({ "fleet.yaml": "logs: logs\nunits: [{ id: LM-01 }, { id: LM-02 }]\n" });
  const { folder: state, db } = await emptyState();
  keepEvents(db, [told(fromMs), told(fromMs + 30 * hour, "raised", { unit: "LM-02" })]);
  db.close();
  return { path: `${folder}/fleet.yaml`, state };
}

function printed(): () => string {
  const write = vi.spyOn(process.stdout, "write").mockReturnValue(true);
  return () => write.mock.calls.map(([text]) => String(text)).join("");
}

it("prints each figure beside the standards', over the part of the window of which anything is known", async () => {
  const { path, state } = await fleet();
  const text = printed();
  const window = { since: iso(fromMs - 5 * day), until: iso(fromMs + 2 * day) };
  expect(await history(path, { performance: true, state, ...window })).toBe(0);
  expect(text()).toMatch(
    /^2 alarms announced in 2 d; nothing is kept from before; the standards ask for 30 d/,
  );
  expect(text()).toMatch(/^alarms a day +1 +about 150, at most 300 +within$/m);
  expect(text()).toMatch(/^ {2}standing: 0 high, 2 medium, 0 low; 2 of them not acknowledged$/m);
});

it("as JSON, of one unit", async () => {
  const { path, state } = await fleet();
  const text = printed();
  const options = { performance: true, json: true, unit: "LM-02", state };
  await history(path, { ...options, since: iso(fromMs), until: iso(fromMs + 2 * day) });
  expect(JSON.parse(text())).toMatchObject({
    askedFromMs: fromMs,
    fromMs: fromMs + 30 * hour,
    announced: 1,
    held: expect.arrayContaining([expect.objectContaining({ figure: "perDay", verdict: "too few data" })]),
  });
});

it("a window before anything is known is refused in one line that says what to do", async () => {
  const { path, state } = await fleet();
  await expect(history(path, { performance: true, state, until: iso(fromMs - day) })).rejects.toThrow(
    "nothing is kept from before Thu 30 Apr 2026 00:00:00 UTC; start watch or collect first, or give a later --until",
  );
});
