import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { reportPeriod } from "../../src/commands/report-period.ts";
import { called } from "../support/called.ts";
import { hostile, keptMonth } from "../support/kept-month.ts";
import { folderWith, onlyError } from "../support/program.ts";

const fleet = `
fleet: ${JSON.stringify(`Ponds ${hostile}`)}
sites:
  ${JSON.stringify(`Bend ${hostile}`)}:
    customer: ${JSON.stringify(`Club ${hostile}`)}
    ozone_permission: { number: ${JSON.stringify(hostile)}, valid_until: "2026-04-20" }
units:
  - { id: LM-01, site: ${JSON.stringify(`Bend ${hostile}`)} }
  - { id: LM-02 }
`;

const period = ["--from", "2026-04-01", "--to", "2026-04-11"];

async function reported(...more: string[]) {
  const cwd = folderWith({ "fleet.yaml": fleet });
  const state = await keptMonth();
  const ended = await called(["report", "fleet.yaml", "--state", state, "--out", "april.html", ...more], {
    cwd,
  });
  const file = join(cwd, "april.html");
  return { cwd, ended, page: existsSync(file) ? readFileSync(file, "utf8") : "" };
}

const table = (cwd: string, name: string): Record<string, string>[] =>
  parse(readFileSync(join(cwd, `april-${name}.csv`)), { columns: true });

describe("report", () => {
  it("tells availability, run hours, ozone hours and coverage as they are worked out by hand", async () => {
    const { cwd, ended } = await reported(...period, "--csv");
    expect(ended).toMatchObject({ status: 0, stderr: "" });
    expect(ended.stdout).toMatch(/^april\.html: 2 units, 1 with readings in the period\n/);
    const [first, second] = table(cwd, "units");
    // 240 h, of which 12 silent and 6 down; the motor ran through the cleaning.
    expect(first).toMatchObject({
      unit: "LM-01",
      required_h: "240",
      up_h: "222",
      down_fault_h: "6",
      down_service_h: "0",
      unknown_h: "12",
      times_down: "1",
      availability: "0.973684",
      run_h: "222",
      ozone_on_h: "222",
      ozone_while_stopped_h: "0",
      alarms: "1",
      data_coverage: "0.95",
    });
    expect(second).toMatchObject({
      unit: "LM-02",
      unknown_h: "240",
      availability: "",
      run_h: "",
      data_coverage: "0",
    });
  });

  it("says on the page what was done, how soon alarms were answered, what allows the ozone, and who was silent", async () => {
    const { page } = await reported(...period);
    expect(page).toContain("No unit has a reading in this period.");
    expect(page).toContain("<p>No readings in this period.</p>");
    expect(page).toContain("EXPIRED on 2026-04-20");
    expect(page).toMatch(/<th scope="row"[^>]*>Not running<\/th>.*<td[^>]*>6 h<\/td><td[^>]*>20 min<\/td>/);
    expect(page).toMatch(
      /6 Apr 2026 00:00 – 01:00<\/th><td[^>]*>cleaning<\/td><td[^>]*>done<\/td><td[^>]*>Ann<\/td>/,
    );
    expect(page).toContain("97.4 % (between 92.5 % and 97.5 %; 95.0 % of the required time is known)");
  });

  it("says beside each figure at a glance for how much of the time it is known", async () => {
    const { page } = await reported(...period);
    const [row] = /<tr>.*href="#u1".*<\/tr>/.exec(page) ?? [""];
    expect([...row.matchAll(/>([^<]+)<br><small>known for ([^<]+)</g)].map(([, ...texts]) => texts)).toEqual([
      ["97.4 %", "95.0 %"],
      ["222 h", "95.0 %"],
      ["222 h", "95.0 %"],
      ["1", "95.0 %"],
    ]);
  });

  it("tells no availability of a month of which a third was read, but how much is known", async () => {
    const { cwd, page } = await reported("--from", "2026-04-01", "--to", "2026-05-01", "--csv");
    expect(page).toMatch(
      />too little data<br><small>known for 31\.7 %<.*>too little data \(between 30\.8 % and 99\.2 %; 31\.7 % of the required time is known\)</s,
    );
    expect(page).not.toContain("97.4 %");
    expect(table(cwd, "units")[0]).toMatchObject({
      availability: "",
      up_h: "222",
      data_coverage: "0.316667",
    });
  });

  it("shows what was found by hand on a visit, and warns where the last ground-fault test was not passed", async () => {
    const { page } = await reported(...period);
    expect(page).toContain(
      "dissolved oxygen 7.4 mg/L, Secchi depth 1.22 m, water 18.0 °C, motor current 9.0 A (logger 9.2 A, mean over 1 h: 0.2 A higher); ground-fault test: the device did not trip; parts: check valve; photos: =&lt;script&gt;",
    );
    expect(page).toContain("leave the unit unplugged and call a licensed electrician.</strong>");
  });

  it("asks what allows ozone also at a unit that should have none, where it was on all the same", async () => {
    const written = fleet
      .replace("  - { id: LM-01,", "  - { id: LM-01, ozone: none,")
      .replace(/ozone_perm.*/, "{}");
    const cwd = folderWith({ "fleet.yaml": written.replace("    {}\n", "") });
    const args = ["report", "fleet.yaml", "--state", await keptMonth(), "--out", "april.html", ...period];
    expect(await called(args, { cwd })).toMatchObject({ status: 0 });
    const page = readFileSync(join(cwd, "april.html"), "utf8");
    expect(page).toMatch(/<td[^>]*>LM-01<\/td><td[^>]*>222 h<\/td><td[^>]*>none on record<\/td>/);
  });

  it("asks what allows ozone at a unit that is fitted with it, though its log tells no ozone status", async () => {
    const cwd = folderWith({ "fleet.yaml": "units:\n  - { id: LM-02, ozone: fitted }\n" });
    const args = ["report", "fleet.yaml", "--state", await keptMonth(), "--out", "april.html", ...period];
    expect(await called(args, { cwd })).toMatchObject({ status: 0 });
    const page = readFileSync(join(cwd, "april.html"), "utf8");
    expect(page).not.toContain("No unit of this report has ozone.");
    expect(page).toMatch(/<td[^>]*>LM-02<\/td><td[^>]*>–<\/td><td[^>]*>none on record<\/td>/);
  });

  it("is a page that asks for nothing from elsewhere and in which no text of others is markup", async () => {
    const { page } = await reported(...period);
    expect(page).not.toMatch(/<script|<link|<img|<iframe|@import|url\(|https?:/i);
    expect(page).toContain("default-src 'none'");
    expect(page).toContain("Ponds &lt;script&gt;alert(1)&lt;/script&gt;&quot;&#39;&amp;␛[2J");
    expect(page).not.toContain("\u001b");
  });

  it("has headings in order, a scope to each head of a table, and each plot told in words", async () => {
    const { page } = await reported(...period);
    const levels = [...page.matchAll(/<h(\d)/g)].map(([, level]) => Number(level));
    expect(levels[0]).toBe(1);
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    for (const [i, level] of levels.slice(1).entries()) expect(level - levels[i]).toBeLessThanOrEqual(1);
    expect([...page.matchAll(/<th(?! scope="(?:col|row)")[ >]/g)]).toEqual([]);
    expect([...page.matchAll(/<table>\n<caption>/g)]).toHaveLength([...page.matchAll(/<table/g)].length);
    const plots = [
      ...page.matchAll(
        /<svg[^>]* role="img" aria-labelledby="(\S+) (\S+)">\n<title id="(\S+)">[^<]+<\/title><desc id="(\S+)">[^<]+<\/desc>/g,
      ),
    ];
    expect(plots).toHaveLength([...page.matchAll(/<svg/g)].length);
    expect(plots).toHaveLength(3);
    for (const [, title, desc, ownTitle, ownDesc] of plots)
      expect([title, desc]).toEqual([ownTitle, ownDesc]);
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("draws a break where nothing was read", async () => {
    const { page } = await reported(...period);
    expect([...page.matchAll(/<polyline class="mean"/g)]).toHaveLength(2 * 3);
  });

  it("writes tables whose text no spreadsheet takes for a formula", async () => {
    const { cwd } = await reported(...period, "--csv");
    expect(table(cwd, "services")).toMatchObject([
      {
        work: "cleaning",
        outcome: "done",
        by: "Ann",
        remark: "'=1+1",
        arrived: "",
        left: "2026-04-06T01:00:00.000Z",
        dissolved_oxygen_mg_l: "7.4",
        secchi_depth_m: "1.219",
        water_temperature_c: "18",
        ground_fault_test: "did not trip",
        parts: "check valve",
        used: "",
        photos: expect.stringMatching(/^'=<script>/),
        skid_came: "",
        gauges: "motor_current=9; water_temperature=18",
        logger: "motor_current=9.2",
      },
    ]);
    expect(table(cwd, "readings").find(({ channel }) => channel === "suction_pressure")).toMatchObject({
      mean: "-24",
    });
    expect(table(cwd, "alarms")).toMatchObject([
      { alarm: "not-running", since: "2026-04-03T00:00:00.000Z", acknowledged: "2026-04-03T00:20:00.000Z" },
    ]);
  });

  it("writes tables into a folder that is named, and units of one site", async () => {
    const { cwd, page } = await reported(...period, "--csv", "tables", "--site", `Bend ${hostile}`);
    expect(existsSync(join(cwd, "tables", "april-units.csv"))).toBe(true);
    expect(page).not.toContain("LM-02");
    expect(page).toContain("For Club &lt;script&gt;");
  });

  describe("of several customers", () => {
    const several = `
sites:
  Heron Bend: { customer: angling club }
  Otter Pool: { customer: angling club }
  Mill Pond: {}
units:
  - { id: LM-01, site: Heron Bend }
  - { id: LM-02, site: Mill Pond }
  - { id: LM-03, site: Otter Pool }
  - { id: LM-04, site: Heron Bend }
`;
    const made = async (...more: string[]) => {
      const cwd = folderWith({ "fleet.yaml": several });
      const args = ["--state", await keptMonth(), "--out", "april.html", ...period, ...more];
      const ended = await called(["report", "fleet.yaml", ...args], { cwd });
      const file = join(cwd, "april.html");
      return { ended, page: existsSync(file) ? readFileSync(file, "utf8") : "" };
    };

    it("has a part for each site with its own figures, and says that it is not for handing on", async () => {
      const { ended, page } = await made();
      expect(ended.stdout).toContain(
        "It tells of 2 customers and is not for handing on; for a page of one write --customer or --site: 'angling club', 'Mill Pond'\n",
      );
      expect(page).toContain("This page tells of 2 customers and is not for handing on");
      expect([...page.matchAll(/<h2 id="s\d">([^<]+)/g)].map(([, name]) => name)).toEqual([
        "Heron Bend",
        "Mill Pond",
        "Otter Pool",
      ]);
      const parts = page.split('<section class="site"').slice(1);
      const named = (part: string) => [...new Set(part.match(/LM-0\d/g))].toSorted();
      expect(parts.map(named)).toEqual([["LM-01", "LM-04"], ["LM-02"], ["LM-03"]]);
      expect(parts.map((part) => part.includes("For angling club."))).toEqual([true, false, true]);
      const levels = [...page.matchAll(/<h(\d)/g)].map(([, level]) => Number(level));
      for (const [i, level] of levels.slice(1).entries()) expect(level - levels[i]).toBeLessThanOrEqual(1);
      const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
      expect(new Set(ids).size).toBe(ids.length);
    });

    it("tells a customer of all their sites and of no other's", async () => {
      const { ended, page } = await made("--customer", "angling club");
      expect(ended.stdout).not.toContain("handing on");
      expect(page).not.toMatch(/handing on|LM-02|Mill Pond/);
      expect(page).toContain('<h2 id="s2">Otter Pool</h2>');
      expect(page).toContain("No reading in this period: LM-04.");
    });

    it.each([
      [
        "no unit of this fleet is of the customer 'anglers'; the nearest is angling club",
        ["--customer", "anglers"],
      ],
      ["LM-02 is not of 'angling club'; leave out", ["--customer", "angling club", "--unit", "LM-02"]],
      ["at 'Mill Pond'; the nearest is", ["--customer", "angling club", "--site", "Mill Pond"]],
    ])("refuses in one line: %s", async (line, more) => {
      expect(onlyError((await made(...more)).ended)).toContain(line);
    });
  });

  it("says of a period without readings that nothing is kept, and answers the rest", async () => {
    const { ended, page } = await reported("--from", "2026-01-01", "--to", "2026-02-01");
    expect(ended.status).toBe(0);
    expect(ended.stdout).toMatch(
      /\nnone was found in the state folder \/.+; another is named with --state\n/,
    );
    expect(page).toContain("Nothing is kept of this period.");
    expect(page).toContain("No unit has a reading in this period.");
    expect(page).toContain("What the figures mean");
    for (const figure of ["Up time", "Down time by fault", "Run hours", "Ozone hours"])
      expect(page).toMatch(new RegExp(`>${figure}</th><td[^>]*>no reading in this period<`));
    expect(page).not.toMatch(/told of no alarm|No alarm in|no current, power|<td[^>]*>0<br>/);
  });

  it.each<[string, string[]]>([
    ["'May' is neither a day nor a time with its offset", ["--from", "May"]],
    ["'2026-02-30' is neither a day nor a time", ["--to", "2026-02-30"]],
    ["--from comes before --to", ["--from", "2026-04-02", "--to", "2026-04-01"]],
    ["the period lies ahead", ["--from", "2999-01-01"]],
    ["no unit of this fleet is at 'Heron'; the nearest is Bend", ["--site", "Heron"]],
    ["'LM-1' is no unit of this fleet; the nearest is LM-01", ["--unit", "LM-1"]],
    ["there is no such folder", ["--out", "none/april.html"]],
  ])("refuses in one line: %s", async (line, more) => {
    const { ended, page } = await reported(...more);
    expect(onlyError(ended)).toContain(line);
    expect(page).toBe("");
  });

  it("refuses where nothing is kept, and makes no state", async () => {
    const cwd = folderWith({ "fleet.yaml": fleet });
    const ended = await called(["report", "fleet.yaml", "--state", "none", "--out", "a.html"], { cwd });
    expect(onlyError(ended)).toContain("no state is kept there yet; start watch or collect first");
    expect(existsSync(join(cwd, "none"))).toBe(false);
  });
});

describe("the period of a report", () => {
  const nowMs = Date.parse("2026-03-20T12:00:00Z");
  const periodOf = (asked: { from?: string; to?: string }) => {
    const { fromMs, toMs } = reportPeriod(asked, "America/Chicago", nowMs);
    return [new Date(fromMs).toISOString(), new Date(toMs).toISOString()];
  };

  it("is the calendar month before this one in the fleet's zone, where none is asked for", () => {
    expect(periodOf({})).toEqual(["2026-02-01T06:00:00.000Z", "2026-03-01T06:00:00.000Z"]);
  });

  it("goes from a day's midnight up to now, or is the month before an end", () => {
    expect(periodOf({ from: "2026-03-10" })).toEqual([
      "2026-03-10T05:00:00.000Z",
      "2026-03-20T12:00:00.000Z",
    ]);
    expect(periodOf({ to: "2026-02-10" })).toEqual(["2026-01-10T06:00:00.000Z", "2026-02-10T06:00:00.000Z"]);
    expect(periodOf({ from: "2026-03-10", to: "2026-05-01" })[1]).toBe("2026-03-20T12:00:00.000Z");
  });
});
