export const second = 1000;
export const minute = 60 * second;
export const hour = 60 * minute;
export const day = 24 * hour;

/** RFC 3339 in UTC with milliseconds, as events carry it. */
export function iso(timeMs: number): string {
  return new Date(timeMs).toISOString();
}

/** A length of time in its two largest units, cut off below: `150 s`, `6 min 30 s`, `3 h 05 min`, `2 d 4 h`. */
export function span(ms: number): string {
  const s = Math.floor(Math.abs(ms) / second);
  const m = Math.floor(s / 60);
  if (s < 180 && s !== 120) return `${s} s`;
  return m < 10 && s % 60 !== 0 ? `${m} min ${s % 60} s` : age(ms);
}

/** How long something has lasted, no finer than it matters: `45 s`, `7 min`, `3 h 05 min`, `2 d 4 h`. */
export function age(ms: number): string {
  const s = Math.floor(Math.abs(ms) / second);
  const m = Math.floor(s / 60);
  const h = Math.floor(m / 60);
  const d = Math.floor(h / 24);
  if (m === 0) return `${s} s`;
  if (h === 0) return `${m} min`;
  if (d === 0) return m % 60 === 0 ? `${h} h` : `${h} h ${String(m % 60).padStart(2, "0")} min`;
  return h % 24 === 0 ? `${d} d` : `${d} d ${h % 24} h`;
}
