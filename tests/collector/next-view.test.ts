import { connect } from "node:net";
import { expect, it, vi } from "vitest";
import type { FleetView } from "../../src/collector/fleet-view.ts";
import { socketLink } from "../../src/collector/link.ts";
import { startViewMessages } from "../../src/collector/next-view.ts";
import { serve, socketPath } from "../../src/collector/serve.ts";
import { firstView } from "../../src/collector/view-thread.ts";
import { keptFleet } from "../dashboard/people.ts";
import { folderWith } from "../support/program.ts";

const fleet = (over: Partial<FleetView>): FleetView => ({ ...keptFleet(), ...over });

it("sends what has changed of a view since, also where it changed in the state behind it", () => {
  const { next } = startViewMessages();
  const state = fleet({ notices: ["the disk is full"] });
  expect(next(state)).toMatchObject({ kind: "view" });
  expect(next(state)).toBeNull();
  (state.notices as string[])[0] = "the disk failed";
  expect(next(state)).toEqual({ kind: "change", change: { notices: { 0: "the disk failed" } } });
});

it("a console that takes in too little for a while is sent the whole of what it missed", async () => {
  const folder = folderWith({ "fleet.yaml": "" });
  const views = startViewMessages();
  views.next(fleet({ stateFolder: "x".repeat(20 * 1024 ** 2), notices: [] }));
  const last = (): FleetView => views.last() as FleetView;
  const serving = await serve(folder, 0o600, last, () => () => {});
  const send = (over: Partial<FleetView>): void => {
    const message = views.next({ ...last(), ...over });
    if (message !== null) serving.send(message);
  };
  const socket = connect(socketPath(folder));
  await vi.waitFor(() => expect(socket.readyState).toBe("open"));
  // It has not begun to read.
  send({ notices: ["the disk is full"] });
  const console_ = await firstView(socketLink(socket), "the collector");
  expect(console_?.current().notices).toEqual([]);
  send({ clockMs: last().clockMs + 1000 });
  await vi.waitFor(() => expect(console_?.current().clockMs).toBe(last().clockMs));
  expect(console_?.current().notices).toEqual(["the disk is full"]);
  await console_?.close();
  await serving.close();
});
