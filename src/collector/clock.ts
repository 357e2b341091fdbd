/** A clock as plain data: at wall time `wallMs` it shows `originMs`, and runs `speed` times as fast. */
export interface Clock {
  readonly originMs: number;
  readonly wallMs: number;
  readonly speed: number;
}

export const wallClock: Clock = { originMs: 0, wallMs: 0, speed: 1 };

export function clockMs({ originMs, wallMs, speed }: Clock): number {
  return originMs + (Date.now() - wallMs) * speed;
}
