import { statusWord } from "./status-words.ts";

/** What a cell gives that is neither a value nor a missing value: the row cannot be read. */
export const unreadable = Number.POSITIVE_INFINITY;

const missingWords = new Set(["", "nan", "+nan", "-nan", "na", "n/a", "null", "none", "-", "--"]);
const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
const thousands = /^[+-]?\d{1,3}(?:,\d{3})+$/;

/**
 * The number in a cell; NaN for a missing value, `unreadable` for anything else. A comma is a decimal
 * comma; where the comma also parts the columns (`commaParts`), `1,234` could as well be a thousand and
 * more, and is unreadable.
 */
export function readNumber(cell: string, commaParts: boolean): number {
  const start = cell.charCodeAt(0);
  // Begins like a number, and not like 0x10: then Number is as strict as the pattern below.
  if (start > 44 && start < 58 && !(cell.charCodeAt(1) >= 65)) {
    const quick = Number(cell);
    if (Number.isFinite(quick)) return quick;
  }
  const text = cell.trim();
  if (decimal.test(text)) return finite(Number(text));
  if (missingWords.has(text.toLowerCase())) return Number.NaN;
  if (text.includes(",") && !(commaParts && thousands.test(text))) {
    const point = text.replace(",", ".");
    if (!text.includes(".") && decimal.test(point)) return finite(Number(point));
  }
  return unreadable;
}

function finite(number: number): number {
  return Number.isFinite(number) ? number : unreadable;
}

const words = new Map([
  ["on", 1],
  ["1", 1],
  ["true", 1],
  ["1.0", 1],
  ["off", 0],
  ["0", 0],
  ["false", 0],
  ["0.0", 0],
]);

/** A status cell: 0 off, 1 on, 2 fault (where the channel can be in fault); NaN missing, else `unreadable`. */
export function readStatus(cell: string, canFault: boolean): number {
  const quick = words.get(cell);
  if (quick !== undefined) return quick;
  const text = cell.trim().toLowerCase();
  if (missingWords.has(text)) return Number.NaN;
  if (canFault && text === "fault") return 2;
  const known = words.get(text) ?? statusWord(text);
  return known === undefined || (known === 2 && !canFault) ? unreadable : known;
}
