// What people and faults do to a place: something is so for a while.

import type { HeatInput } from '../physics/station-model.ts';

/** Where `from` is `to` it happens in one step. Later ones in a list outweigh earlier ones. */
export interface Spell {
  readonly from: number;
  readonly to: number;
  readonly set: Partial<HeatInput>;
}

/** One spell after another whose value moves on evenly, a step every so many milliseconds. */
export const ramp = (
  from: number,
  to: number,
  stepMillis: number,
  set: (share: number) => Partial<HeatInput>,
): readonly Spell[] => {
  const spells: Spell[] = [];
  for (let at = from; at < to; at += stepMillis)
    spells.push({ from: at, to: Math.min(to, at + stepMillis), set: set((at - from) / (to - from)) });
  return spells;
};
