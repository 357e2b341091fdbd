import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { columns } from "../../src/commands/columns.ts";
import { logFolder, rowsOf, startOf, write } from "../acquire/workbench.ts";
import { skabFolder, skabIsThere } from "../support/skab.ts";

async function show(path: string, options: Parameters<typeof columns>[1] = {}): Promise<string> {
  const lines: string[] = [];
  expect(await columns(path, options, (line) => lines.push(line))).toBe(0);
  return lines.join("\n");
}

async function refusal(path: string, options: Parameters<typeof columns>[1] = {}): Promise<string> {
  return columns(path, options, () => {}).then(
    () => "",
    (error: Error) => error.message,
  );
}

describe("columns", () => {
  it("shows how a log was understood", async () => {
    const path = write(
      logFolder(),
      "LM-01.csv",
      `\uFEFFtime;motor_current_ma;suction_pressure_inhg;ozone;Note\r\n${[0, 1, 2, 3, 60, 61, 61]
        .map((s) => `${startOf(s)};9800,5;6;on;fine`)
        .join("\r\n")}\r\nyesterday;9800;6;on;fine`,
    );
    expect(await show(path)).toBe(
      `${path}
dialect    semicolon, decimal comma, CRLF, byte-order mark
time       'time', with offset
readings   2026-05-04T03:00:00.000Z to 2026-05-04T03:01:01.000Z, 61 s
interval   1 s, too few rows to be sure
rows       6 taken, 1 repeats, 0 joined, 0 late, 1 rejected

header                 channel           unit  conversion
motor_current_ma       motor_current     mA    mA × 0.001 = A
suction_pressure_inhg  suction_pressure  inHg  inHg × 3.386389 = kPa, a vacuum: counted negative
ozone                  ozone                   on, off, fault

ignored    'Note': no channel by its header alone

gaps       1 longer than 3 intervals:
  2026-05-04T03:00:03.000Z  57 s

rejected   1:
  line 9: 'yesterday' is not a time in a form that is read; the log must say 2026-05-04T03:12:20Z or 2026-05-04 03:12:20`,
    );
  });

  it("shows what init would make of columns that nobody named, with its reasons, and where to go on", async () => {
    const path = write(logFolder(), "LM-01.csv", `time,ozone,Amps,Outlet (psi)\n${startOf(0)},on,9.2,12.5\n`);
    expect(await show(path)).toMatch(
      /guesses .*init.*\n.*\n +Amps +motor_current +A +no unit in its header.*\n +Outlet \(psi\) +discharge_pressure +psi +psi by its header\n\ntarnwatch init .* fleet file$/,
    );
    const known = write(logFolder(), "LM-02.csv", `time,ozone\n${startOf(0)},on\n`);
    expect(await show(known)).not.toContain("init");
  });

  it("shows how dates with slashes are to be taken, where every row is rejected for them", async () => {
    const rows = ["04/24/2026 03:10:00,on", "04/24/2026 03:10:10,on"].join("\n");
    const shown = await show(write(logFolder(), "LM-01.csv", `time,ozone\n${rows}\n`));
    expect(shown).toContain("the times: 'time', time_format: MM/DD/YYYY: its second number goes up to 24");
    expect(shown).toMatch(/init .* fleet file$/);
  });

  it("shows the same of a log of which it knows no column at all, and that it cannot be read so", async () => {
    const path = write(logFolder(), "LM-01.csv", `when,Amps\n${startOf(0)},9.2\n`);
    const lines: string[] = [];
    await expect(columns(path, {}, (line) => lines.push(line))).rejects.toThrow(
      "no time column in its header",
    );
    expect(lines.join("\n")).toMatch(/the times: 'when'\n.*\n +Amps +motor_current +A /);
    lines.length = 0;
    await expect(columns(path, { json: true }, (line) => lines.push(line))).rejects.toThrow("no time column");
    expect(JSON.parse(lines.join()).guesses).toMatchObject([
      { header: "Amps", channel: "motor_current", unit: "A" },
    ]);
  });

  it("says where it took a unit for granted", async () => {
    const path = write(logFolder(), "LM-01.csv", `time,Voltage\n${startOf(0)},117\n`);
    expect(await show(path)).toContain("Voltage  voltage  V     no unit in the header: taken as V");
  });

  it("shows also a log of which no row can be read", async () => {
    const path = write(logFolder(), "LM-01.csv", "time,ozone\nyesterday,on\n");
    const text = await show(path);
    expect(text).toContain("problem    LM-01.csv: none of its 1 rows can be read; line 2: 'yesterday'");
    expect(text).toContain("readings   none");
    expect(text).toContain("ozone   ozone          on, off, fault");
  });

  it("lets nothing in a log steer the terminal", async () => {
    // Test strings after ECMA-48: CSI, OSC, and the eight-bit CSI; a bidirectional control of Unicode.
    const evil = "\u001b[2J\u001b]0;x\u0007\u009b31m\u202e";
    const path = write(
      logFolder(),
      "LM-01.csv",
      `time,${evil},motor_current_a\n${startOf(0)},1,2\n${evil},1,2\n${startOf(1)},1,${evil}\n`,
    );
    const text = await show(path);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not come through.
    expect(text.replaceAll("\n", "")).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202e]/);
    expect(text).toContain("␛[2J");
  });

  it("uses a unit's mapped columns, found by the log's name or named by hand", async () => {
    const folder = logFolder();
    const path = write(folder, "U-1.csv", `when,Feed\n${startOf(0)},12\n`);
    const fleet = write(
      folder,
      "fleet.yaml",
      `logs: .
units:
  - id: U-1
    columns: { time: when, gas_pressure: { column: Feed, unit: mA, range: [4, 20], scale: [0, 400] }, flow: Q }
  - id: U-2
    columns: { time: when, gas_pressure: { column: Feed, unit: psi } }
`,
    );
    const one = await show(path, { fleet });
    expect(one).toContain("mA × 25 − 100 = kPa, 3.6 mA and less or 21 mA and more: missing");
    expect(one).toContain("lacking    'Q': mapped in the fleet file, not in the header");
    expect(await show(path, { fleet, unit: "U-2" })).toContain("psi × 6.894757 = kPa");
  });

  it("prints the same as JSON", async () => {
    const path = write(
      logFolder(),
      "LM-01.csv",
      `time,motor_current_a,x\n${startOf(0)},9.8,1\n${startOf(9)},9.8,1\n`,
    );
    expect(JSON.parse(await show(path, { json: true }))).toMatchObject({
      log: path,
      dialect: { delimiter: ",", decimal: "point", line_end: "LF", byte_order_mark: false },
      time: { header: "time", form: "with offset", timezone: null },
      columns: [{ header: "motor_current_a", channel: "motor_current", unit: "A", conversion: "as it is" }],
      ignored: ["x"],
      first_reading: "2026-05-04T03:00:00.000Z",
      last_reading: "2026-05-04T03:00:09.000Z",
      sample_interval_s: 9,
      rows: 2,
      rejected: 0,
    });
  });

  it("says in one line what keeps a log from being read", async () => {
    const folder = logFolder();
    const binary = write(folder, "binary.csv", Buffer.from([1, 0, 0, 0, 10]));
    const empty = write(folder, "empty.csv", "");
    const nameless = write(folder, "nameless.csv", "a,b\n1,2\n");
    const good = write(folder, "good.csv", `time,ozone\n${rowsOf(0, 1)}`);
    expect(await refusal(`${folder}/none.csv`)).toBe(`${folder}/none.csv: there is no such file`);
    expect(await refusal(folder)).toBe(`${folder}: it is a folder, not a file`);
    expect(await refusal(binary)).toBe(
      `${binary}: it is binary (NUL bytes), not CSV text; give the logger's CSV export`,
    );
    expect(await refusal(empty)).toBe(`${empty}: it is empty; write a header and rows into it`);
    expect(await refusal(nameless)).toContain(
      `${nameless}: no time column in its header 'a,b'; name one time`,
    );
    expect(await refusal(good, { unit: "U" })).toBe(
      "--unit 'U' needs its fleet file; write --fleet FILE too",
    );
  });
});

describe.skipIf(!skabIsThere)(
  `open data of a water loop${skabIsThere ? "" : ` is SKIPPED: there is no ${skabFolder}`}`,
  () => {
    const fleetText = `logs: .
units:
  - id: loop
    columns:
      time: datetime
      motor_current: Current
      discharge_pressure: { column: Pressure, unit: bar }
      motor_temperature: Temperature
      water_temperature: Thermocouple
      voltage: Voltage
      flow: Volume Flow RateRMS
      vibration: [Accelerometer1RMS, Accelerometer2RMS]
`;

    // Skoltech Anomaly Benchmark v0.9 (doi 10.34740/kaggle/dsv/1693952): files read, rows and gaps counted;
    // nominally one reading a second.
    it.each([
      ["valve1/0.csv", { rows: 1147 }],
      ["valve1/2.csv", { gapS: 76 }],
      ["valve1/4.csv", { gapS: 54 }],
      ["valve1/7.csv", { gapS: 65 }],
      ["valve2/1.csv", { gapS: 64 }],
      ["other/13.csv", { gapS: 33 }],
    ])("%s", async (name, known: { rows?: number; gapS?: number }) => {
      const fleet = write(logFolder(), "fleet.yaml", fleetText);
      const shown = JSON.parse(await show(join(skabFolder, name), { fleet, unit: "loop", json: true }));
      expect(shown).toMatchObject({
        dialect: { delimiter: ";", decimal: "point" },
        time: { header: "datetime", form: "local", timezone: "UTC" },
        ignored: ["anomaly", "changepoint"],
        sample_interval_s: 1,
        rejected: 0,
        repeats: 0,
      });
      expect(shown.columns).toHaveLength(8);
      if (known.rows !== undefined) expect(shown.rows).toBe(known.rows);
      if (known.gapS === undefined) return;
      const [largest] = shown.largest_gaps;
      expect((Date.parse(largest.to) - Date.parse(largest.from)) / 1000).toBe(known.gapS);
    });
  },
);
