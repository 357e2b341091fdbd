import { expect, it } from "vitest";
import { permissionOf } from "../../src/report/permission.ts";

const standing = (ozonePermission?: Readonly<Record<string, string>>) =>
  permissionOf({ name: "Heron Bend", ...(ozonePermission && { ozonePermission }) }, "2026-05-04").standing;

it("a permission is valid, ends soon or has expired by the date that is written of its end", () => {
  expect(standing({ number: "W-17", valid_until: "2027-03-31" })).toBe("valid until 2027-03-31");
  expect(standing({ valid: "from 2025-06-01 to 2026-06-01" })).toBe("ends on 2026-06-01, in 28 d");
  expect(standing({ valid_until: "2026-05-04" })).toBe("ends on 2026-05-04, in 0 d");
  expect(standing({ expires: "2026-05-03" })).toBe("EXPIRED on 2026-05-03");
});

it("of several ends the earliest counts: what has expired is told though another entry runs on", () => {
  expect(standing({ discharge_until: "2026-03-31", permit_expires: "2028-01-01" })).toBe(
    "EXPIRED on 2026-03-31",
  );
});

it("a date of issue or of a beginning is no end, and neither is one that no calendar has", () => {
  expect(standing({ valid_from: "2025-06-01", valid_until: "2027-03-31" })).toBe("valid until 2027-03-31");
  expect(standing({ valid_since: "2028-01-01" })).toBe("on record, without a date on which it ends");
  expect(standing({ valid_issued: "2025-06-01", expires: "2027-03-31" })).toBe("valid until 2027-03-31");
  expect(standing({ valid_until: "2027-02-30", expires: "2027-03-31" })).toBe("valid until 2027-03-31");
  expect(standing({ expires: "2027-02-30 or 2026-05-03" })).toBe("EXPIRED on 2026-05-03");
});

it("what is not written is said, and no date is taken for an end that is none", () => {
  expect(standing()).toBe("none on record");
  expect(permissionOf(undefined, "2026-05-04").standing).toBe("none on record");
  expect(standing({ number: "W-17", granted: "2025-01-01" })).toBe(
    "on record, without a date on which it ends",
  );
  expect(standing({ expires: "2026-13-45" })).toBe("on record, without a date on which it ends");
});
