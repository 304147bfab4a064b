// How a wax pattern is formed. It sets the strain that is frozen in when the wax cools on the die.

export const TECHNIQUES = ['layered', 'dipped', 'pressed', 'sheet'] as const;
export type Technique = (typeof TECHNIQUES)[number];
