/** What people do at a unit. */
export const works = ["inspection", "cleaning", "repair", "re-piping", "lay-up", "start-up", "swap"] as const;
export type Work = (typeof works)[number];
