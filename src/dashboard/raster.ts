/** One strip of a chart: text rows from top to bottom. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  /** Points across: two a column in Braille, one in ASCII. */
  readonly points: number;
  set(point: number, level: number): void;
  readonly levels: number;
  rows(): readonly string[];
}

/** Braille dots of Unicode's 2 × 4 cell, by column and by row from the top. */
const dots = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
] as const;

/** Draws in Braille where the terminal has it, with stars elsewhere. Level 0 is the bottom. */
export function raster(width: number, height: number, unicode: boolean): Raster {
  const across = unicode ? 2 : 1;
  const down = unicode ? 4 : 1;
  const cells = new Uint8Array(width * height);
  const levels = height * down;
  return {
    width,
    height,
    points: width * across,
    levels,
    set(point, level) {
      if (point < 0 || point >= width * across || level < 0 || level >= levels) return;
      const fromTop = levels - 1 - level;
      const cell = Math.floor(fromTop / down) * width + Math.floor(point / across);
      const bit = unicode ? (dots[point % 2 === 0 ? 0 : 1][fromTop % 4] ?? 0) : 1;
      cells[cell] = (cells[cell] ?? 0) | bit;
    },
    rows: () =>
      Array.from({ length: height }, (_, row) =>
        Array.from(cells.subarray(row * width, (row + 1) * width), (bits) =>
          bits === 0 ? " " : unicode ? String.fromCharCode(0x2800 + bits) : "*",
        ).join(""),
      ),
  };
}
