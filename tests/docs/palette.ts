/** What a screen is drawn in: the terminal's own two colours, and the first 16 (ECMA-48, and their bright kin). */
export interface Palette {
  readonly paper: string;
  readonly ink: string;
  /** Black, red, green, yellow, blue, magenta, cyan, white, then the same bright. */
  readonly colours: readonly string[];
}

export const light: Palette = {
  paper: "#fbfaf7",
  ink: "#22282c",
  colours: [
    ...["#1b1f22", "#b3261e", "#2c6e3f", "#e0b02a", "#2557a0", "#86348f", "#1c6a78", "#ffffff"],
    ...["#4d565c", "#d0453b", "#3b8a52", "#efc95a", "#3f74c4", "#a655ae", "#2f8a99", "#ffffff"],
  ],
};

export const dark: Palette = {
  paper: "#14191c",
  ink: "#d6dbdd",
  colours: [
    ...["#14191c", "#b8342b", "#63b07a", "#d9ad35", "#6f9fe0", "#96459f", "#5fb2c0", "#ffffff"],
    ...["#7d878d", "#e0665c", "#86cb9b", "#eccb6b", "#97bdf0", "#c07fc8", "#8acfda", "#ffffff"],
  ],
};

/** How much of the ink a dim character has. */
export const dimness = 0.7;
