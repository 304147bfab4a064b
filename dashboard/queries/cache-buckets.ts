// A store that is read once for what one report needs several times: the night of a place is that of its probes and of
// every pattern on it. It lasts as long as the report is made.

import { bucketPlan } from '../../collector/store/bucket-width.ts';
import type { ReadingsQuery, SeriesBucket, Store } from '../../collector/store/store.ts';
import type { EpochMillis } from '../../wax/units.ts';

export const cacheBuckets = (store: Store): Store['buckets'] => {
  const answers = new Map<string, Promise<readonly SeriesBucket[]>>();
  return (query: ReadingsQuery) => {
    const plan = bucketPlan(query);
    // So many points may come to the same buckets as a few more.
    const key = `${query.probe} ${query.from} ${query.to} ${plan?.width}`;
    const asked = answers.get(key) ?? store.buckets(query);
    answers.set(key, asked);
    return asked;
  };
};

/**
 * The same readings in wider buckets.
 * @param width a multiple of the width that they have
 */
export const widenBuckets = (
  buckets: readonly SeriesBucket[],
  width: number,
  from: EpochMillis,
): readonly SeriesBucket[] => {
  const wide: SeriesBucket[] = [];
  for (const bucket of buckets) {
    const at = Math.max(Math.floor(bucket.at / width) * width, from) as EpochMillis;
    const last = wide.at(-1);
    if (last?.at !== at) wide.push({ ...bucket, at });
    else {
      const count = last.count + bucket.count;
      wide[wide.length - 1] = {
        at,
        min: Math.min(last.min, bucket.min),
        max: Math.max(last.max, bucket.max),
        mean: (last.mean * last.count + bucket.mean * bucket.count) / count,
        count,
        doubtful: last.doubtful + bucket.doubtful,
      };
    }
  }
  return wide;
};
