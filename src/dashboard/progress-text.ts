import type { Progress } from "../collector/fleet-view.ts";
import { age, second } from "../terms/time.ts";

/** `40 % (1.2 of 3.0 GB) · 85 MB/s · 21 s left`; rate and time left where they can be told. */
export function progressText({ bytesRead, bytesTotal, bytesPerSecond }: Progress): string {
  const percent = bytesTotal > 0 ? Math.floor((100 * bytesRead) / bytesTotal) : 0;
  const [scale, unit] = bytesTotal >= 1e9 ? [1e9, "GB"] : [1e6, "MB"];
  // What is kept has been read; how much there is in all is still being looked at.
  if (bytesTotal === 0 && bytesRead > 0) return "looking how much there is";
  const parts = [
    `${Math.min(99, percent)} % (${amount(bytesRead / scale)} of ${amount(bytesTotal / scale)} ${unit})`,
  ];
  if (bytesPerSecond !== null) parts.push(`${amount(bytesPerSecond / 1e6)} MB/s`);
  if (bytesPerSecond !== null && bytesPerSecond > 0) {
    const leftMs = (Math.max(0, bytesTotal - bytesRead) / bytesPerSecond) * second;
    parts.push(`${age(Math.max(second, Math.ceil(leftMs / second) * second))} left`);
  }
  return parts.join(" · ");
}

function amount(number: number): string {
  return number.toFixed(number < 99.95 ? 1 : 0);
}
