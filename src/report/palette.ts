/** Colours of a page, as `#rrggbb`. */
export interface Palette {
  readonly paper: string;
  readonly ink: string;
  /** Captions, units, what is said beside. */
  readonly quiet: string;
  readonly link: string;
  /** Lines of tables and axes. */
  readonly rule: string;
  /** The line of means, and the band between least and most behind it. */
  readonly mean: string;
  readonly band: string;
  readonly baseline: string;
}

export const light: Palette = {
  paper: "#ffffff",
  ink: "#1b1f23",
  quiet: "#4d565e",
  link: "#0b5394",
  rule: "#7d878f",
  mean: "#0b5394",
  band: "#c9dcf0",
  baseline: "#9a3b00",
};

export const dark: Palette = {
  paper: "#14181c",
  ink: "#e8ebee",
  quiet: "#b3bcc4",
  link: "#8cc2ff",
  rule: "#7d878f",
  mean: "#8cc2ff",
  band: "#28435e",
  baseline: "#ffb077",
};
