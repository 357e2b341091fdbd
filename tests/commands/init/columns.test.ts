import { mkdtempSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { sampleLog } from "../../../src/acquire/sample.ts";
import type { Guess } from "../../../src/commands/init/guess.ts";
import { guessColumns } from "../../../src/commands/init/guess-columns.ts";
import { folderWith } from "../../support/program.ts";
import { american, foreignLog, german, type Logger, local, loops, terse, wobble } from "./foreign-logs.ts";

async function guessed(logger: Logger): Promise<readonly Guess[]> {
  const folder = folderWith({ "log.csv": foreignLog(logger) });
  const sample = await sampleLog(join(folder, "log.csv"));
  if (typeof sample === "string") throw new Error(sample);
  return guessColumns([sample]);
}

/** Channel and how it is read, by header; what is left open has neither. */
async function placed(logger: Logger) {
  const guesses = await guessed(logger);
  return Object.fromEntries(
    guesses.map(({ header, placed: at }) => {
      const { unit = "", vacuum } = at?.source ?? {};
      return [header, at === undefined ? "–" : `${at.channel} ${unit}${vacuum ? " vacuum" : ""}`.trim()];
    }),
  );
}

/** A log with one column more than a running motor's current. */
const withColumn = (header: string, value: (i: number) => string | number): Logger => ({
  header: ["time", "Amps", header],
  row: (i, t) => [local(t), (9 + wobble(i, 0.1)).toFixed(2), value(i)],
});

async function only(header: string, value: (i: number) => string | number): Promise<Guess | undefined> {
  return (await guessed(withColumn(header, value))).find((guess) => guess.header === header);
}

describe("what init makes of columns it has never seen", () => {
  it("reads units in brackets and words in one word", async () => {
    expect(await placed(german)).toEqual({
      "Motorstrom [A]": "motor_current A",
      "Motortemperatur [°C]": "motor_temperature °C",
      "Saugdruck [bar]": "suction_pressure bar",
      "Druck Ausgang [bar]": "discharge_pressure bar",
      Bemerkung: "–",
    });
  });

  it("takes 148 at a motor's shell for °F, as no shell is so hot in °C", async () => {
    const shown = await placed(american);
    expect(shown).toMatchObject({
      Amps: "motor_current A",
      "Shell Temp": "motor_temperature degF",
      "Discharge psi": "discharge_pressure psi",
      "Pond Temp F": "water_temperature F",
    });
  });

  it("leaves a suction pressure that reads positive to a person, with both ways to take it", async () => {
    const suction = (await guessed(american)).find(({ header }) => header === "Suction psi");
    expect(suction?.placed).toBeUndefined();
    expect(suction?.choices.map(({ source, when }) => [source.vacuum ?? false, when])).toEqual([
      [true, "a vacuum written as a positive number"],
      [false, "water stands above the pump"],
    ]);
  });

  it("asks of its own header as well, where the number has the wrong sign", async () => {
    const guess = await only("suction_pressure_kpa", (i) => 21 + wobble(i, 1));
    expect(guess?.placed).toBeUndefined();
    expect(guess?.choices).toHaveLength(2);
    expect((await only("suction_pressure_kpa", (i) => -21 + wobble(i, 1)))?.recognised).toBe(true);
  });

  it("asks only of what it reads while the motor runs", async () => {
    const logger: Logger = {
      header: ["time", "Amps", "Suction kPa"],
      row: (i, t) => [local(t), i % 4 === 0 ? 9 : 0, i % 4 === 0 ? -20 : 2],
    };
    expect(await placed(logger)).toMatchObject({ "Suction kPa": "suction_pressure kPa" });
  });

  it("knows a vacuum by its name or by inches of mercury", async () => {
    expect((await only("Vacuum kPa", (i) => 20 + wobble(i, 1)))?.placed?.source.vacuum).toBe(true);
    expect((await placed(loops))["Suction (inHg)"]).toBe("suction_pressure inHg vacuum");
  });

  it.each([
    ["Unterdruck (bar)", "suction_pressure bar vacuum"],
    ["Vakuum (bar)", "suction_pressure bar vacuum"],
    ["Saugdruck (bar)", "–"],
    ["Ansaugdruck (bar)", "–"],
    ["Förderdruck (bar)", "discharge_pressure bar"],
    ["Foerderdruck (bar)", "discharge_pressure bar"],
    ["Druckseite (bar)", "discharge_pressure bar"],
    ["Enddruck (bar)", "discharge_pressure bar"],
    ["Auslassdruck (bar)", "discharge_pressure bar"],
    ["Gasdruck (bar)", "gas_pressure bar"],
    ["Gasvordruck (bar)", "gas_pressure bar"],
    ["Luftdruck (bar)", "–"],
    ["Vide (bar)", "suction_pressure bar vacuum"],
    ["Dépression (bar)", "suction_pressure bar vacuum"],
    ["Pression refoulement (bar)", "discharge_pressure bar"],
    ["Pression gaz (bar)", "gas_pressure bar"],
    ["Vacío (bar)", "suction_pressure bar vacuum"],
    ["Presión de descarga (bar)", "discharge_pressure bar"],
    ["Presión de gas (bar)", "gas_pressure bar"],
    ["Vuoto (bar)", "suction_pressure bar vacuum"],
    ["Pressione di mandata (bar)", "discharge_pressure bar"],
    ["Pressione gas (bar)", "gas_pressure bar"],
    ["Onderdruk (bar)", "suction_pressure bar vacuum"],
    ["Persdruk (bar)", "discharge_pressure bar"],
    ["Gasdruk (bar)", "gas_pressure bar"],
    ["Förderstrom (m3/h)", "flow m3/h"],
  ])("knows the side of a positive reading in the words of its country: %s", async (header, as) => {
    expect((await placed(withColumn(header, (i) => 0.4 + wobble(i, 0.01))))[header]).toBe(as);
  });

  it("takes 9300 mA for a motor's current, and 8.4 mA for a loop whose scale is not in the log", async () => {
    expect(await placed(loops)).toMatchObject({
      "Motor current (mA)": "motor_current mA",
      "Gas pressure (mA)": "–",
      "Ozone state": "ozone",
    });
    const loop = (await guessed(loops)).find(({ header }) => header.startsWith("Gas"));
    expect(loop?.choices).toMatchObject([
      { channel: "gas_pressure", source: { unit: "mA", range: [4, 20] } },
    ]);
    const motor = await only("Motor current mA", (i) => 8.4 + wobble(i, 0.1));
    expect(motor?.placed).toBeUndefined();
    expect(motor?.why).toContain("4–20 mA");
  });

  it("does not believe a header of amps where only mA can be", async () => {
    const guesses = await guessed({ header: ["time", "Motor Amps"], row: (i, t) => [local(t), 9300 + i] });
    expect(guesses[0]).toMatchObject({ placed: { source: { unit: "mA" } }, unsure: true });
  });

  it.each([
    ["Discharge", 0.8, "bar"],
    ["Discharge", 12, "psi"],
    ["Discharge", 120, "kPa"],
    ["Discharge", 900, "mbar"],
    ["Suction", -0.2, "bar"],
    ["Suction", -200, "mbar"],
    ["Pond temperature", 21, "degC"],
    ["Pond temperature", 66, "degF"],
    ["Shell", 74, "degC"],
    ["Shell", 165, "degF"],
    ["Power", 0.9, "kW"],
    ["Power", 900, "W"],
  ])("tells the unit of %s by %s as %s", async (header, value, unit) => {
    const guess = await only(header, (i) => (value + wobble(i, Math.abs(value) / 50)).toFixed(3));
    expect(guess?.placed?.source.unit).toBe(unit);
    expect(guess?.why).toContain("no unit in its header");
  });

  it("says where another unit would be as likely, and takes that of the other headers", async () => {
    const alone = await only("Discharge", (i) => 40 + wobble(i, 1));
    expect(alone).toMatchObject({ placed: { source: { unit: "kPa" } }, unsure: true });
    expect(alone?.choices.map(({ source }) => source.unit)).toEqual(["psi"]);
    const beside = await placed({
      header: ["time", "Pond degF", "Discharge"],
      row: (i, t) => [local(t), 66, 40 + wobble(i, 1)],
    });
    expect(beside.Discharge).toBe("discharge_pressure psi");
  });

  it("puts accelerometers together, the warmest temperature to the motor, one gauge to the discharge", async () => {
    expect(await placed(terse)).toEqual({
      I: "–",
      "Accel X": "vibration g",
      "Accel Y": "vibration g",
      Current: "motor_current A",
      "Temperature 1": "water_temperature degC",
      "Temperature 2": "motor_temperature degC",
      Pressure: "discharge_pressure kPa",
      "Battery volts": "–",
      zq: "–",
    });
    for (const { header, unsure } of await guessed(terse)) {
      if (/Temperature|Pressure/.test(header)) expect([header, unsure]).toEqual([header, true]);
    }
  });

  it("leaves two temperatures alike, a second column of a channel and a speed of vibration to a person", async () => {
    const shown = await placed({
      header: ["time", "Temp 1", "Temp 2", "Motor Amps", "Pump Amps", "Vibration (mm/s)"],
      row: (i, t) => [local(t), 22 + wobble(i, 1), 24 + wobble(i, 1), 9, 9.1, 2.2],
    });
    expect(shown).toEqual({
      "Temp 1": "–",
      "Temp 2": "–",
      "Motor Amps": "motor_current Amps",
      "Pump Amps": "–",
      "Vibration (mm/s)": "–",
    });
  });

  it("keeps three phases as one channel", async () => {
    const shown = await placed({
      header: ["time", "L1 Amps", "L2 Amps", "L3 Amps"],
      row: (_, t) => [local(t), 9, 9.1, 9.2],
    });
    expect(new Set(Object.values(shown))).toEqual(new Set(["motor_current Amps"]));
  });
});

describe("a sample of a log", () => {
  it("sees the beginning, the middle and the end of a large one, and reads little of it", async () => {
    const path = join(mkdtempSync(join(folderWith({}), "big-")), "big.csv");
    const third = (n: number, amps: number, from: number) =>
      Array.from({ length: n }, (_, i) => `${from + i},${amps}`).join("\n");
    writeFileSync(
      path,
      `time,Amps\n${third(50_000, 1, 1_700_000_000)}\n${third(50_000, 2, 1_700_050_000)}\n${third(50_000, 3, 1_700_100_000)}\n`,
    );
    const sample = await sampleLog(path);
    if (typeof sample === "string") throw new Error(sample);
    expect(sample.stretches.map((rows) => rows[0][1])).toEqual(["1", "2", "3"]);
    expect(sample.timesMs.at(-1)?.at(-1)).toBe(1_700_149_999_000);
    expect(sample.stretches.flat().length).toBeLessThan(4000);
  });

  it.each([
    ["", "it is empty"],
    ["no columns here\nat all\n", "it is no CSV"],
    ["time,Amps\n", "no row yet"],
    ["time,Amps\n4 May 2026 03:00,9\n", "its times cannot be read: 'time': '4 May 2026 03:00'"],
    ["n,Amps\n1,9\n2,9\n", "no column of times in its header 'n,Amps'"],
    ["PK\u0003\u0004\u0000\u0000\u0000\u0000,\n", "it is binary"],
  ])("of %j is refused in words: %s", async (text, why) => {
    expect(await sampleLog(join(folderWith({ "log.csv": text }), "log.csv"))).toContain(why);
  });
});
