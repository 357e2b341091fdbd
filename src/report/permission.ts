import type { Site } from "../fleet/unit.ts";
import { day } from "../terms/time.ts";

/** How the permission to feed ozone at a site stands by what the fleet file has of it. */
export interface Permission {
  /** As written, in its order. */
  readonly entries: readonly (readonly [string, string])[];
  /** `2027-03-31`; null where no entry that tells of an end holds such a date. */
  readonly expires: string | null;
  readonly standing: string;
}

const tellsEnd = /until|expir|ends|valid/i;
const tellsBegin = /from|since|issued/i;
const soonDays = 60;

/** The permission on record for a site; `today`, as `2026-05-04`, is the day that it is judged on. */
export function permissionOf(site: Site | undefined, today: string): Permission {
  const entries = Object.entries(site?.ozonePermission ?? {});
  if (entries.length === 0) return { entries, expires: null, standing: "none on record" };
  const expires =
    entries
      .filter(([key]) => tellsEnd.test(key) && !tellsBegin.test(key))
      .flatMap(([, text]) => datesIn(text).toSorted().at(-1) ?? [])
      .toSorted()
      .at(0) ?? null;
  if (expires === null) return { entries, expires, standing: "on record, without a date on which it ends" };
  const days = Math.round((Date.parse(expires) - Date.parse(today)) / day);
  if (days < 0) return { entries, expires, standing: `EXPIRED on ${expires}` };
  if (days <= soonDays) return { entries, expires, standing: `ends on ${expires}, in ${days} d` };
  return { entries, expires, standing: `valid until ${expires}` };
}

/** The dates of the calendar in a text: 30 February is none. */
function datesIn(text: string): string[] {
  return (text.match(/\b\d{4}-\d{2}-\d{2}\b/g) ?? []).filter((date) => {
    const ms = Date.parse(date);
    return !Number.isNaN(ms) && new Date(ms).toISOString().startsWith(date);
  });
}
