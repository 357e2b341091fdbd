import { expect, it } from "vitest";
import { oneAtATime } from "../../src/acquire/one-at-a-time.ts";

/** A folder that is looked through slowly: each look sees it as it was at its beginning. */
function slowLooks() {
  let folder = "";
  let known = "";
  const ends: ((error?: Error) => void)[] = [];
  const look = oneAtATime(async () => {
    const seen = folder;
    await new Promise<void>((resolve, reject) => {
      ends.push((error) => (error === undefined ? resolve() : reject(error)));
    });
    known = seen;
  });
  return {
    look,
    ends,
    known: () => known,
    put: (name: string) => {
      folder += name;
    },
  };
}

const others = () => new Promise<void>((resolve) => setImmediate(resolve));

it("a look while one runs begins after it, so that the newer answer stands", async () => {
  const { look, ends, known, put } = slowLooks();
  put("a");
  const first = look();
  await others();
  put("b");
  const second = look();
  await others();
  expect(ends).toHaveLength(1);
  ends[0]();
  await first;
  expect(known()).toBe("a");
  await others();
  ends[1]();
  await second;
  expect(known()).toBe("ab");
});

it("many looks while one runs are one look more", async () => {
  const { look, ends, known, put } = slowLooks();
  void look();
  await others();
  const more = ["a", "b", "c"].map((name) => {
    put(name);
    return look();
  });
  ends[0]();
  await others();
  ends[1]();
  await Promise.all(more);
  expect(known()).toBe("abc");
  await others();
  expect(ends).toHaveLength(2);
});

it("a look that fails tells its caller, and holds up no other", async () => {
  const { look, ends, known, put } = slowLooks();
  const first = look();
  await others();
  put("a");
  const second = look();
  ends[0](new Error("the disk is gone"));
  await expect(first).rejects.toThrow("the disk is gone");
  await others();
  ends[1]();
  await second;
  expect(known()).toBe("a");
});
