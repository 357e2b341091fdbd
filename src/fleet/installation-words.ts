/** What pipe is made of. */
export const pipeMaterials = [
  "plastic",
  "copper",
  "rubber hose",
  "steel",
  "galvanized steel",
  "cast iron",
] as const;
export type PipeMaterial = (typeof pipeMaterials)[number];

/** What water passes on its way through a pipe. */
export const fittingNames = [
  "elbow",
  "long_elbow",
  "elbow_45",
  "tee_run",
  "tee_branch",
  "ball_valve",
  "gate_valve",
  "check_valve",
  "foot_valve",
  "hinged_foot_valve",
] as const;
/** How many of each fitting a pipe has. */
export type Fittings = Readonly<Partial<Record<(typeof fittingNames)[number], number>>>;

/** Sizes of copper wire, AWG, from the thinnest. */
export const wireSizes = [14, 12, 10, 8, 6] as const;
export type WireSize = (typeof wireSizes)[number];
