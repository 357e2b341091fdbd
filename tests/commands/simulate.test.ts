import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { called } from "../support/called.ts";
import { folderWith, onlyError, projectFolder, run, runOther } from "../support/program.ts";

describe("simulate", () => {
  test("writes a fleet that replay plays and score judges", async () => {
    const out = folderWith({});
    const made = await run([
      "simulate",
      "--out",
      out,
      "--units",
      "1",
      "--days",
      "1.5",
      "--interval",
      "30 s",
      "--fault",
      "suction-uncovered,after=30h",
    ]);
    expect(made).toMatchObject({ status: 0, stderr: "" });
    expect(made.stdout).toContain("1 unit, 4320 readings, 1 fault in");
    expect(readdirSync(out).sort()).toEqual(["fleet.yaml", "logs", "services.csv", "truth.csv"]);
    const events = join(out, "events.jsonl");
    await run(["replay", join(out, "fleet.yaml"), "--events", events]);
    const score = await run(["score", "--events", events, "--truth", join(out, "truth.csv")]);
    expect(score.stdout).toMatch(/lost-prime +1 +1 +0/);
  }, 20_000);

  test("--list names each fault, the alarm that ought to tell of it, and what happens", async () => {
    const { stdout, status } = await run(["simulate", "--list"]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^suction-uncovered +lost-prime +the suction end comes out/m);
  });

  test("names the faults that were asked for and cannot show", async () => {
    const short = ["--units", "1", "--days", "0.5", "--interval", "1 min"];
    const wished = ["frost,after=1h", "line-parted,after=2h", "rotor-locked", "frost,after=20h"];
    const asked = wished.flatMap((wish) => ["--fault", wish]);
    const { status, stdout, stderr } = await called([
      "simulate",
      "--out",
      folderWith({}),
      ...short,
      ...asked,
    ]);
    expect(status).toBe(0);
    expect(stdout).toContain("1 unit, 720 readings, 1 fault in");
    expect(stderr).toBe(
      "cannot show in this fleet: frost, rotor-locked, frost; give it more --units or --days, or a shorter --interval\n",
    );
  });

  test("--replace clears what an earlier simulation wrote, and nothing else", async () => {
    const out = folderWith({});
    const size = ["--days", "0.1", "--interval", "10 min", "--clean", "--replace"];
    await called(["simulate", "--out", out, "--units", "3", ...size]);
    writeFileSync(join(out, "notes.txt"), "mine");
    expect(await called(["simulate", "--out", out, "--units", "1", ...size])).toMatchObject({ status: 0 });
    expect(readdirSync(join(out, "logs"))).toEqual(["HA-01.csv"]);
    expect(readFileSync(join(out, "notes.txt"), "utf8")).toBe("mine");
  });

  test.each([
    ["with a fleet file of one's own", { "fleet.yaml": "units:\n  - id: LM-01\n", "logs/LM-01.csv": "mine" }],
    ["without a fleet file", { "logs/LM-01.csv": "mine" }],
  ])("--replace leaves a folder %s as it is", async (_, files) => {
    const out = folderWith(files);
    const said = onlyError(await called(["simulate", "--out", out, "--replace"]));
    expect(said).toBe(
      `${out} holds no fleet of simulate (its fleet.yaml would begin with '# An invented fleet'); name another folder`,
    );
    expect(readFileSync(join(out, "logs", "LM-01.csv"), "utf8")).toBe("mine");
    expect(readdirSync(out)).toEqual(Object.keys(files).map((name) => name.replace(/\/.*/, "")));
  });

  test("a file in the folder's place is named as one", async () => {
    const file = join(folderWith({ "notes.txt": "mine" }), "notes.txt");
    expect(onlyError(await called(["simulate", "--out", file]))).toBe(
      `${file}: it is a file, not a folder; name a folder that can be written`,
    );
    expect(onlyError(await called(["simulate", "--out", join(file, "fleet")]))).toContain(
      "a part of this path is a file, not a folder",
    );
  });

  test.skipIf(process.platform !== "linux")(
    "a disk that takes no more is an error, and no short log",
    async () => {
      const out = folderWith({});
      const launcher = join(projectFolder, "dist", "launch.js");
      // A file that may not grow past 16 blocks is written short first, as on a disk that fills up.
      const shell = `trap '' XFSZ; ulimit -f 16; exec "$0" "$@"`;
      const program = [process.execPath, launcher, "simulate", "--out", out, "--units", "1", "--days", "1"];
      expect(onlyError(await runOther("sh", ["-c", shell, ...program]))).toMatch(
        /file too large.*; name a folder that can be written$/,
      );
    },
  );

  test("a folder that is not empty is left as it is", async () => {
    const out = folderWith({ "notes.txt": "mine" });
    const said = onlyError(await called(["simulate", "--out", out]));
    expect(said).toContain(`${out} is not empty; name another folder, or add --replace`);
    expect(readdirSync(out)).toEqual(["notes.txt"]);
  });

  test.each([
    [["--fault", "suction-coverd"], "the nearest is suction-uncovered"],
    [["--fault", "line-parted,severity=2"], "severity '2' is not above 0 and up to 1"],
    [["--fault", "line-parted,when=3h"], "'when' is not known; write line-parted,severity=0.5,after=30h"],
    [["--interval", "0 s"], "--interval"],
    [["--from", "yesterday"], "--from 'yesterday' is not a time"],
    [["--clean", "--fault", "line-parted"], "write one of them"],
    [["--units", "1.5"], "write a whole number"],
    [["--days", "Infinity"], "argument 'Infinity' is invalid. write a number above 0"],
    [["--days", "401"], "--days 401: write a number up to 400"],
    [["--seed", "4294967296"], "--seed 4294967296: write a whole number below 4294967296"],
    [["--out", ""], "simulate: name a folder for the fleet: --out DIR"],
  ])("%j is one clear line", async (args, said) => {
    expect(onlyError(await called(["simulate", "--out", folderWith({}), ...args]))).toContain(said);
  });
});
