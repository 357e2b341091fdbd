const unsafe = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu;

/**
 * `text` with every control character made visible, so that no name or cell can move the cursor,
 * colour the screen or turn the reading direction: C0, DEL and C1 (ECMA-48), Unicode's format
 * characters (bidirectional controls, zero-width spaces) and its line separators. C0 become their
 * control pictures, the rest `\u{…}`.
 */
export function visible(text: string): string {
  return text.replace(unsafe, (c) => {
    const code = c.codePointAt(0) ?? 0;
    if (code < 0x20) return String.fromCharCode(0x2400 + code);
    if (code === 0x7f) return "\u2421";
    return `\\u{${code.toString(16)}}`;
  });
}

/** With a capital at its start. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** `1 unit`, `2 units`. */
export function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}

const rawInJson = /[\u007f-\u009f\p{Cf}\p{Zl}\p{Zp}]/gu;

/** `value` as JSON on one line, with the characters of `visible` that JSON would leave raw escaped too. */
export function jsonLine(value: unknown): string {
  return JSON.stringify(value).replace(rawInJson, (c) =>
    Array.from({ length: c.length }, (_, i) => `\\u${c.charCodeAt(i).toString(16).padStart(4, "0")}`).join(
      "",
    ),
  );
}

/** Whether `text` holds every word of `filter`, in any order and case, with or without accents. */
export function matches(filter: string, text: string): boolean {
  const wanted = plain(filter)
    .split(/\s+/)
    .filter((word) => word !== "");
  if (wanted.length === 0) return true;
  const held = plain(text);
  return wanted.every((word) => held.includes(word));
}

const nonAscii = /[^\0-\x7f]/;

function plain(text: string): string {
  if (!nonAscii.test(text)) return text.toLowerCase();
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}
