// A question to a store that does not answer becomes a problem whose advice is to try again.

import { StoreAway } from '../../../../collector/store/store.ts';
import { HttpProblem } from '../../base/problem.ts';

export const orStoreAway = async <T>(asking: Promise<T>): Promise<T> =>
  asking.catch((cause: unknown) => {
    if (!(cause instanceof StoreAway)) throw cause;
    throw new HttpProblem('store-away', { headers: { 'retry-after': '5' } });
  });
