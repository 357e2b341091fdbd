import { describe, expect, it } from "vitest";
import { folderWith, onlyError, run } from "../support/program.ts";
import { mailbox, receiver } from "./receivers.ts";

const units = "units: [{ id: LM-01, site: Heron Bend }]\n";
const secret = { DESK_SECRET: "0123456789abcdef0123456789abcdef" };

describe("notify --test", () => {
  it("sends a message that is plainly a test each way, and exits 0", async () => {
    const desk = await receiver((response) => response.end());
    const office = await mailbox();
    const cwd = folderWith({
      "fleet.yaml": `fleet: Larkmoor ponds\n${units}notify:
  ways:
    phone: { command: [node, say.mjs] }
    duty desk: { webhook: "${desk.url}", secret_env: DESK_SECRET }
    office: { mail: "smtp://localhost:${office.port}", from: tarnwatch@example.org, to: office@example.org }
`,
      "say.mjs": "process.exit(process.env.TARNWATCH_TYPE === 'test' ? 0 : 1);",
    });
    expect(await run(["notify", "--test"], { cwd, env: secret })).toEqual({
      status: 0,
      stdout: "ok      phone      command\nok      duty desk  webhook\nok      office     mail\n",
      stderr: "",
    });
    expect(JSON.parse(desk.requests[0]?.body ?? "null")).toMatchObject({ type: "test", alarms: [] });
    expect(office.mails[0]).toMatch(
      /^Subject: TEST from tarnwatch: Larkmoor ponds can reach you by office\./m,
    );
  });

  it("names each way that failed and why, and exits 2", async () => {
    const desk = await receiver((response) => response.writeHead(404).end());
    const cwd = folderWith({
      "fleet.yaml": `${units}notify:
  ways: { phone: { command: [true] }, desk: { webhook: "${desk.url}", secret_env: DESK_SECRET } }
  send: [{ to: desk, hours: 08:00-17:00 }]\n`,
    });
    const { status, stdout } = await run(["notify", "--test"], { cwd, env: secret });
    expect({ status, lines: stdout.trimEnd().split("\n") }).toEqual({
      status: 2,
      lines: [
        "ok      phone  command",
        "failed  desk   webhook: it answered 404 Not Found",
        expect.stringMatching(
          /^note {4}nobody is told of a high alarm at Heron Bend on \w+day at \d\d:\d\d; see sites and hours/,
        ),
      ],
    });
  });

  it("says in one line that nothing is configured, or that --test is missing", async () => {
    const bare = folderWith({ "fleet.yaml": units });
    expect(onlyError(await run(["notify", "--test"], { cwd: bare }))).toMatch(
      /it has no notify; write the ways/,
    );
    const cwd = folderWith({ "fleet.yaml": `${units}notify: { ways: { phone: { command: [true] } } }\n` });
    expect(onlyError(await run(["notify"], { cwd }))).toMatch(/write --test to send a test message/);
  });
});
