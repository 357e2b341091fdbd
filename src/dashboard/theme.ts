import { ascii } from "./ascii.ts";
import type { Line, Style } from "./line.ts";

/** What the terminal can show. */
export interface Theme {
  readonly colour: boolean;
  /** Bold, dim and reverse: absent on a dumb terminal. */
  readonly attributes: boolean;
  /** Box, block and Braille characters: absent without a UTF-8 locale. */
  readonly unicode: boolean;
}

/**
 * Select-graphic-rendition parameters (ECMA-48). Only the first 16 colours, each with both foreground
 * and background set, so that a badge reads the same on a light and a dark screen.
 */
const coloured: Readonly<Record<Style, string>> = {
  plain: "",
  dim: "2",
  strong: "1",
  high: "1;37;41",
  medium: "30;43",
  low: "1;37;45",
  selected: "7",
};
const uncoloured: Readonly<Record<Style, string>> = { ...coloured, high: "1;7", medium: "7", low: "7" };

/** What the terminal behind `env` can show, by NO_COLOR, TERM and the locale. */
export function themeOf(
  env: Readonly<Record<string, string | undefined>>,
  colourDepth: number,
  platform: string,
): Theme {
  const dumb = env.TERM === "dumb";
  const noColor = (env.NO_COLOR ?? "") !== "";
  return {
    colour: !dumb && !noColor && colourDepth >= 4,
    attributes: !dumb,
    unicode: hasUnicode(env, platform),
  };
}

/** The Linux console has no Braille; elsewhere the locale says, by POSIX's order of precedence. */
function hasUnicode(env: Readonly<Record<string, string | undefined>>, platform: string): boolean {
  if (env.TERM === "dumb" || env.TERM === "linux") return false;
  const locale = [env.LC_ALL, env.LC_CTYPE, env.LANG].find((value) => value !== undefined && value !== "");
  if (locale === undefined) return platform === "darwin" || platform === "win32";
  return /utf-?8/i.test(locale);
}

/** `content` as a string for the terminal, with the escape sequences that `theme` allows. */
export function paint(content: Line, theme: Theme): string {
  const styles = theme.colour ? coloured : uncoloured;
  let out = "";
  for (const { text, style } of content) {
    if (text === "") continue;
    const shown = theme.unicode ? text : ascii(text);
    const parameters = theme.attributes ? styles[style] : "";
    out += parameters === "" ? shown : `\u001b[${parameters}m${shown}\u001b[0m`;
  }
  return out;
}
