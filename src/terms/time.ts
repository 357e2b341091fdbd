export const second = 1000;
export const minute = 60 * second;
export const hour = 60 * minute;
export const day = 24 * hour;

/** RFC 3339 in UTC with milliseconds, as events carry it. */
export function iso(timeMs: number): string {
  return new Date(timeMs).toISOString();
}

/** A length of time in the two largest units that matter: `45 s`, `7 min`, `3 h 05 min`, `2 d 4 h`. */
export function span(ms: number): string {
  const s = Math.round(Math.abs(ms) / second);
  if (s < 90) return `${s} s`;
  const m = Math.round(s / 60);
  if (m < 60) return `${m} min`;
  if (m < 24 * 60) {
    const rest = m % 60;
    return rest === 0
      ? `${Math.floor(m / 60)} h`
      : `${Math.floor(m / 60)} h ${String(rest).padStart(2, "0")} min`;
  }
  const h = Math.round(m / 60);
  const rest = h % 24;
  return rest === 0 ? `${Math.floor(h / 24)} d` : `${Math.floor(h / 24)} d ${rest} h`;
}
