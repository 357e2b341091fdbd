import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { giveUp, patienceMs, startPastes, takeInput } from "../../src/dashboard/input/pastes.ts";

const esc = "\u001b";
const start = `${esc}[200~`;
const end = `${esc}[201~`;
const escKey = `${esc}[27u`;
const pasted = (text: string): string => start + text + end;
const all = (pieces: readonly string[], pastes = startPastes()): string =>
  pieces.map((piece) => takeInput(pastes, piece)).join("");

/** What would be taken for keys. */
function outside(given: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences are what is looked for
  return given.replace(/\u001b\[200~[\s\S]*?\u001b\[201~/g, "");
}

/** Pieces of `text`, cut at the given places. */
function cut(text: string, places: readonly number[]): readonly string[] {
  const at = places.map((place) => place % (text.length + 1)).toSorted((a, b) => a - b);
  return [0, ...at].map((from, n) => text.slice(from, at[n] ?? text.length));
}

describe("a paste", () => {
  test("of which no end comes is over after a second, and keys are heard again", () => {
    const pastes = startPastes();
    expect(all([`${start}q`, "q"], pastes)).toBe("");
    expect(patienceMs(pastes)).toBe(1000);
    expect(giveUp(pastes)).toBe(pasted("qq"));
    expect(patienceMs(pastes)).toBeNull();
    expect(all(["q", `${esc}[A`], pastes)).toBe(`q${esc}[A`);
  });

  test("whose rest comes after more than a second is a paste still", () => {
    const pastes = startPastes();
    all([`${start}shelve`], pastes);
    giveUp(pastes);
    expect(all([" all 2h\r", "c", end], pastes)).toBe(pasted(" all 2h\rc"));
    expect(all(["q"], pastes)).toBe("q");
  });

  test("after an Esc in the same piece is a paste, and the Esc a key", () => {
    expect(all([`${esc}${pasted("q")}y`])).toBe(`${escKey}${pasted("q")}y`);
  });

  test("whose start was lost is a paste by its end", () => {
    expect(all([`q${end}y`])).toBe(`${pasted("q")}y`);
  });
});

test("an Esc that nothing follows is a key; a piece of a sequence is none", () => {
  const pastes = startPastes();
  expect(takeInput(pastes, `a${esc}`)).toBe("a");
  expect(patienceMs(pastes)).toBe(20);
  expect(giveUp(pastes)).toBe(escKey);
  expect(takeInput(pastes, `${esc}[1;`)).toBe("");
  expect(giveUp(pastes)).toBe("");
});

const key = fc.constantFrom("k", "kk", esc, `${esc}[A`, `${esc}OB`, "\r", `${esc}${esc}`, `${esc}[5~`);
const content = fc
  .array(fc.constantFrom("X", esc, "[", "20", "1", "~", "\r", start), { maxLength: 8 })
  .map((parts) => `X${parts.join("")}X`)
  .filter((text) => !text.includes(end));

test("wherever its pieces are cut and whatever stands beside it, nothing that was pasted is a key and no key is lost", () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(key, content.map(pasted)), { maxLength: 8 }),
      fc.array(fc.nat(), { maxLength: 6 }),
      (typed, places) => {
        const pastes = startPastes();
        const given = all(cut(typed.join(""), places), pastes) + giveUp(pastes);
        const keys = (text: string) => text.replace(/[^k\r]/g, "");
        expect(outside(given)).not.toContain("X");
        expect(keys(outside(given))).toBe(keys(typed.filter((one) => !one.startsWith(start)).join("")));
      },
    ),
    { numRuns: 500 },
  );
});
