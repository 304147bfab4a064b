// The address by which other devices open the lab. A page that was opened at this computer itself has the lab's own name,
// where the lab gave one; else no other device can open what carries the address.

import { isLoopback } from '../../loopback.ts';
import { health } from './lab-state.ts';

const isOpenedHere = (): boolean => isLoopback(location.hostname.replace(/^\[(.*)\]$/, '$1'));

export const originForOthers = (): string =>
  (isOpenedHere() ? health.value?.reachedAt : null) ?? location.origin;

/** `here`: only this computer opens it; `named`: by the name that the lab gave; `as-opened`: as this page was opened. */
export const reachOfAddress = (): 'here' | 'named' | 'as-opened' => {
  if (!isOpenedHere()) return 'as-opened';
  return health.value?.reachedAt == null ? 'here' : 'named';
};
