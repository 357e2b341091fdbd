import { plasticRoughnessM } from "./friction.ts";

/**
 * Roughness of new pipe by what it is made of, m: recommended values, which differ by half and more from pipe to pipe.
 *
 * Source: F. M. White, Fluid Mechanics, table of recommended roughness (cast iron 0.26 mm; the others from memory).
 */
export const roughnessM = {
  plastic: plasticRoughnessM,
  copper: 2e-6,
  "rubber hose": 1e-5,
  steel: 46e-6,
  "galvanized steel": 150e-6,
  "cast iron": 260e-6,
} as const;
