// The storage limit of a wax class is common practice and no edge: a room that passes it by less for an afternoon moves no
// pattern that can be measured. A limit that the lab or a maker's sheet gives is one.

import type { WaxValue } from '../../../../wax/wax-class.ts';

/** Common practice, no source. */
export const ABOVE_CLASS_LIMIT_KELVINS = 1;

/** What may lie above the limit: `kelvins` where it is that of the class. */
export const aboveClassLimit = ({ standing }: Pick<WaxValue, 'standing'>, kelvins: number): number =>
  standing === "lab's own" || standing === "maker's sheet" ? 0 : kelvins;
